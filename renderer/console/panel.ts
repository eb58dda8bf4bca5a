import type { CheckId } from '../../core/procedure/checks.ts';
import type { Eye } from '../../core/procedure/commands.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import type { FormId } from './forms/form.ts';

export interface FormPanelState {
  readonly kind: 'form';
  readonly form: FormId;
  /** The session it was opened on: it is of no use to another. */
  readonly sessionId: string | null;
  readonly eye: Eye | null;
  readonly item: CheckId | null;
  readonly overriding: boolean;
  readonly openedBy: string;
  /** Grows with every doubt that is asked about, so that Enter has to be let go in between. */
  readonly asked: number;
}

/** What lies over the tasks; null while nothing does. */
export type Panel = FormPanelState | { readonly kind: 'keys' } | { readonly kind: 'ledger' } | null;

/** What Enter would confirm now, as one word: when it changes, Enter is disarmed for a while. */
export function confirmed(panel: Panel, view: SessionView | null): string {
  if (panel?.kind === 'form') return `form ${panel.form} ${panel.asked}`;
  if (panel !== null) return panel.kind;
  if (view === null) return 'no session';
  const { wayOn, sessionId } = view;
  return `${sessionId} ${view.state} ${wayOn?.command} ${wayOn?.eye} ${wayOn?.open}`;
}
