import type { CheckId } from '../../core/procedure/checks.ts';
import type { Eye } from '../../core/procedure/commands.ts';
import type { TroubleId } from '../../core/procedure/trouble.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import type { FormId, Going } from './forms/form.ts';

export interface FormPanelState {
  readonly kind: 'form';
  readonly form: FormId;
  /** The session it was opened on: it is of no use to another. */
  readonly sessionId: string | null;
  readonly eye: Eye | null;
  readonly item: CheckId | null;
  readonly overriding: boolean;
  /** What it goes on with, beside the way on. */
  readonly going: Going | null;
  readonly openedBy: string;
  /** Grows with every question that is asked, so that Enter has to be let go in between. */
  readonly asked: number;
  /** Signing in: the form that was wanted by whoever had to sign in first. */
  readonly wanted: FormPanelState | null;
}

/** Rooms of their own, which have Enter, Esc and the arrows. */
export const ROOM_NAMES = ['ledger', 'settings', 'people'] as const;
export type RoomName = (typeof ROOM_NAMES)[number];

/** The room that is open; null where none is. */
export const roomIn = (panel: Panel): RoomName | null => ROOM_NAMES.find((name) => name === panel?.kind) ?? null;

/** What lies over the tasks; null while nothing does. */
export type Panel =
  | FormPanelState
  | { readonly kind: RoomName }
  /** The code for the safe, until it is written down. */
  | { readonly kind: 'recovery code'; readonly code: string }
  /** The cards of trouble, or the one that was chosen. */
  | { readonly kind: 'trouble'; readonly sessionId: string | null; readonly card: TroubleId | null }
  | null;

/** What Enter would confirm now, as one word: when it changes, Enter is disarmed for a while. */
export function confirmed(panel: Panel, view: SessionView | null): string {
  if (panel?.kind === 'form') return `form ${panel.form} ${panel.asked}`;
  if (panel?.kind === 'trouble') return `trouble ${panel.card}`;
  if (panel !== null) return panel.kind;
  if (view === null) return 'no session';
  const { wayOn, sessionId } = view;
  return `${sessionId} ${view.state} ${wayOn?.command} ${wayOn?.eye} ${wayOn?.open}`;
}
