import type { Plan } from '../dosing/plan-schema.ts';
import type { Regimen } from '../regimen/regimens.ts';
import type { Settings } from '../settings/settings.ts';
import type { CheckId } from './checks.ts';
import type { CommandKind, CommandOf, Eye } from './commands.ts';
import type { CueSounded, DueKind } from './due.ts';
import type { Difference } from './events.ts';
import type { Exposure } from './exposure.ts';
import type { Infusion } from './infusion.ts';
import type { Author } from './person.ts';
import type { StateName } from './states.ts';
import type { TroubleId } from './trouble.ts';

/**
 * What is known of one session: the fold of its entries. Continuous instants are stored under `atMs` or
 * names that end in `AtMs` and nowhere else, so that re-basing after a reboot can move them all.
 */
export interface SessionRecord {
  readonly sessionId: string;
  readonly practice: boolean;
  /** The site's settings when the session was opened: a session is not changed under people's hands. */
  readonly settings: Settings;
  readonly boot: string;
  /** True once instants were re-based on wall time after a reboot: counts are estimates from then on. */
  readonly rebased: boolean;
  readonly patient: Kept<'identify'> | null;
  readonly order: Ordered | null;
  readonly screening: Kept<'screen'> | null;
  readonly measured: Kept<'measure'> | null;
  /** What height, weight and order come to. Null until all three are there. */
  readonly plan: Plan | null;
  readonly secondCheck: SecondCheck | null;
  /** How often a second computation differed from the first. */
  readonly differed: number;
  readonly checks: Readonly<Record<string, Done>>;
  readonly reconstitutedAtMs: number | null;
  readonly reconstitutedWallMs: number | null;
  readonly drug: Kept<'drug'> | null;
  readonly line: Kept<'line'> | null;
  /** Everything that exists only once drug has run: from the pump's start on. */
  readonly course: Course | null;
  /** Instants that came due and were entered. */
  readonly rung: Readonly<Partial<Record<RungName, { rungAtMs: number; dueAtMs: number }>>>;
  /** What became of each instant of a cue, as far as it was told. */
  readonly cuesSounded: readonly Omit<CueSounded, 'kind'>[];
  /** Repeating cues that somebody said were heard. */
  readonly cuesHeard: readonly Kept<'cue-heard'>[];
  readonly readBacks: Partial<Record<Eye, Kept<'read-back'> & { agrees: boolean; says: string }>>;
  readonly reactions: readonly Kept<'reactions'>[];
  readonly review: Kept<'review'> | null;
  readonly troubles: readonly Trouble[];
  /** Times the machine slept while drug or light was under way. */
  readonly sleeps: readonly Sleep[];
  readonly deviations: readonly Deviation[];
  readonly notes: readonly Told[];
  readonly stopped: Kept<'stop-early'> | null;
  readonly reached: readonly Reached[];
}

export type RungName = Exclude<DueKind, 'exposure-due'> | `exposure-due:${Eye}`;

/** A command's content with who gave it and when. */
export type Kept<K extends CommandKind> = Omit<CommandOf<K>, 'kind' | 'override'> & Done;

export interface Done {
  readonly by: Author;
  readonly atMs: number;
  readonly wallMs: number;
  readonly offsetMin: number;
}

/** Who and when alone, without what was entered. */
export const doneOf = ({ by, atMs, wallMs, offsetMin }: Done): Done => ({ by, atMs, wallMs, offsetMin });

export interface SecondCheck extends Done {
  readonly agrees: boolean;
  readonly differences: readonly Difference[];
}

export interface Reached extends Done {
  readonly state: StateName;
}

/** An order as it stands: the regimen itself, and each lesion on the retina. */
export interface Ordered extends Omit<Kept<'order'>, 'lesions'> {
  readonly regimen: Regimen;
  readonly lesions: readonly Lesion[];
}

export interface Lesion {
  readonly eye: Eye;
  /** Greatest linear dimension on the retina. */
  readonly gldUm: number;
  /** Nasal edge of the lesion to temporal edge of the disc. */
  readonly discDistanceUm?: number | undefined;
  /** Of the camera the lesion was measured with; absent where it was measured on the retina. */
  readonly cameraMagnification?: number | undefined;
}

/** Trouble that was met, and what the record was told about it afterwards. */
export interface Trouble extends Done {
  readonly card: TroubleId;
  readonly told: Told | null;
}

/** A sleep of the machine; `looked` once a person has said what the pump did meanwhile. */
export interface Sleep extends Done {
  readonly sleptMs: number;
  readonly byWallMs: number;
  /** Whether the infusion's time was running on meanwhile. */
  readonly counted: boolean;
  readonly looked: (Done & { readonly pump: CommandOf<'looked'>['pump'] }) | null;
}

/** A note, or an addendum to a session that is over. */
export interface Told extends Done {
  readonly words: string;
}

export interface Deviation extends Done {
  readonly words: string;
  readonly reason: string;
}

/** The state a record is in: the last it reached. */
export function stateOf(record: SessionRecord): StateName {
  const last = record.reached.at(-1);
  if (last === undefined) throw new Error('a session record has always reached a state');
  return last.state;
}

/** The two timers and what follows from them. Both count from the one T0, the pump's start. */
export interface Course {
  readonly t0AtMs: number;
  /** When the key was pressed; differs from `t0AtMs` once the start was set back. */
  readonly t0PressedAtMs: number;
  readonly t0WallMs: number;
  readonly t0OffsetMin: number;
  readonly infusion: Infusion;
  readonly lightDueAtMs: number;
  /** Last instant at which a second eye may be begun. Null with one eye, or where no limit is published. */
  readonly secondEyeDueAtMs: number | null;
  readonly flush: Flush | null;
  readonly exposures: readonly Exposure[];
}

export interface Flush {
  readonly beganAtMs: number;
  readonly endedAtMs: number | null;
  readonly flushMl: number | null;
  readonly deliveredMg: number | null;
  readonly notDeliveredMg: number | null;
}

/** The key a check is kept under: its name, and the eye where it is confirmed for each. */
export const checkKey = (item: CheckId, eye?: Eye): string => (eye === undefined ? item : `${item}:${eye}`);

/** Moves every continuous instant in a record by `shiftMs`: everything under `atMs` or a name that ends in `AtMs`. */
export function shiftInstants<T>(value: T, shiftMs: number): T {
  if (Array.isArray(value)) return value.map((one) => shiftInstants(one, shiftMs)) as T;
  if (value === null || typeof value !== 'object') return value;
  const moved = Object.entries(value).map(([key, inner]) => [
    key,
    /(^at|At)Ms$/.test(key) && typeof inner === 'number' ? inner + shiftMs : shiftInstants(inner, shiftMs),
  ]);
  return Object.fromEntries(moved) as T;
}
