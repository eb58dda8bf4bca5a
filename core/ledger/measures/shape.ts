import type { Eye, HOLD_REASONS } from '../../procedure/commands.ts';
import type { Role } from '../../procedure/person.ts';
import type { StateName } from '../../procedure/states.ts';
import type { TroubleId } from '../../procedure/trouble.ts';

/**
 * What one session comes to, read from its entries: enough to find it and to judge it, and nothing that was judged.
 * Plain JSON. Spans are in whole milliseconds; a name that ends in `FromT0Ms` is counted from the pump's start as it
 * was finally stated, and is negative before it. Every item carries the sequence of the entry it was read from.
 */
export interface SessionMeasures {
  readonly sessionId: string;
  readonly practice: boolean;
  /** Wall time of the first entry, and the minutes its local time was ahead of UTC. */
  readonly openedWallMs: number;
  readonly offsetMin: number;
  readonly firstSeq: number;
  /** Of the last entry there is, read or not. */
  readonly lastSeq: number;
  readonly entries: number;
  readonly state: StateName;
  readonly patientCode: string | null;
  readonly regimenId: string | null;
  readonly regimenName: string | null;
  /** In the order of treatment. */
  readonly eyes: readonly Eye[];
  /** Every lot that was entered, each once. */
  readonly lots: readonly string[];
  /** Who entered anything, each once, in the order of appearance. */
  readonly people: readonly PersonMeasure[];
  readonly t0: T0Measure | null;
  readonly reconstitution: ReconstitutionMeasure | null;
  readonly infusion: InfusionMeasure | null;
  readonly holds: readonly HoldMeasure[];
  readonly flush: FlushMeasure | null;
  readonly light: LightMeasure | null;
  /** Null with one eye ordered, or where the regimen has no limit. */
  readonly secondEye: SecondEyeMeasure | null;
  /** One for each ordered eye, once the pump has started. */
  readonly exposures: readonly ExposureMeasure[];
  readonly stoppedEarly: StopMeasure | null;
  readonly latePresses: readonly LatePressMeasure[];
  readonly overriddenGuards: readonly OverrideMeasure[];
  readonly clockEvents: readonly ClockEventMeasure[];
  readonly cues: readonly CueMeasure[];
  readonly doubleChecks: readonly DoubleCheckMeasure[];
  readonly statedDeviations: readonly StatedMeasure[];
  /** The last entry that could be read; `lastSeq` where all could. */
  readonly readTo: number;
  /** The entry at which reading ended before the last, and what is wrong there. */
  readonly trouble: { readonly seq: number; readonly says: string } | null;
}

export interface PersonMeasure {
  readonly initials: string;
  readonly role: Role;
}

/** The pump's start: as pressed, and as stated where it was set back. */
export interface T0Measure {
  readonly seq: number;
  readonly wallMs: number;
  readonly offsetMin: number;
  /** On the continuous clock of `boot`: after a re-basing that of the last boot, which is an estimate. */
  readonly continuousMs: number;
  readonly boot: string;
  readonly setBackMs: number;
}

export interface ReconstitutionMeasure {
  readonly seq: number;
  readonly wallMs: number;
  /** Null while the pump has not been switched off for good. */
  readonly toInfusionEndMs: number | null;
}

export interface InfusionMeasure {
  readonly plannedMs: number;
  /** Holds left out. Up to the last entry that was read, where the pump still runs. */
  readonly ranMs: number;
  /** When and by which entry the pump was off for good; null while it is not. */
  readonly endFromT0Ms: number | null;
  readonly endSeq: number | null;
}

export interface HoldMeasure {
  readonly seq: number;
  /** Why the pump was held, or the trouble that held it. */
  readonly reason: (typeof HOLD_REASONS)[number] | TroubleId;
  readonly fromT0Ms: number;
  /** Until the pump ran again or was off for good; null while held. */
  readonly heldMs: number | null;
}

export interface FlushMeasure {
  readonly plannedMs: number;
  /** Null where the pump was off for good and no flush was begun. */
  readonly beganFromT0Ms: number | null;
  readonly beganSeq: number | null;
  /** Null while it runs, and where it was cut short or never begun. */
  readonly ranMs: number | null;
  readonly endSeq: number | null;
  readonly flushMl: number | null;
  /** What a flush that was done left in the line; null where it was not done, or what the line holds is not known. */
  readonly notDeliveredMg: number | null;
  readonly skipped: SkippedFlush | null;
}

/** A treatment stopped before its flush was done. */
export interface SkippedFlush {
  readonly seq: number;
  readonly how: 'not begun' | 'cut short';
  /** What was in the line then, all of which may have stayed there; null where what the line holds is not known. */
  readonly inLineMg: number | null;
  readonly inSyringeMg: number;
}

export interface LightMeasure {
  readonly dueFromT0Ms: number;
  /** First beam on, over all eyes; null while there was none. */
  readonly startFromT0Ms: number | null;
  readonly startSeq: number | null;
  /** Start against due: negative is early. */
  readonly startOffsetMs: number | null;
  /** The entry after which no more light was to come; null while it may. */
  readonly overSeq: number | null;
}

export interface SecondEyeMeasure {
  readonly limitFromT0Ms: number;
  /** The eye that was begun second; null while none was. */
  readonly eye: Eye | null;
  readonly startSeq: number | null;
  /** Start against limit: negative is in time. */
  readonly startOffsetMs: number | null;
}

export interface ExposureMeasure {
  readonly eye: Eye;
  readonly orderedS: number;
  readonly orderedJPerCm2: number;
  readonly deliveredS: number;
  readonly deliveredJPerCm2: number;
  readonly beams: readonly BeamMeasure[];
}

/** Light on, and off again; `off…` is null while it is on. */
export interface BeamMeasure {
  readonly onSeq: number;
  readonly onFromT0Ms: number;
  readonly offSeq: number | null;
  readonly offFromT0Ms: number | null;
}

export interface StopMeasure {
  readonly seq: number;
  readonly reason: string;
  /** Null before any drug. */
  readonly fromT0Ms: number | null;
}

/** A press that came late and was set back by so many seconds. */
export interface LatePressMeasure {
  readonly seq: number;
  readonly what: 'pump on' | 'beam on' | 'beam off';
  readonly agoS: number;
}

/** A step that went on although something was missing. */
export interface OverrideMeasure {
  readonly seq: number;
  readonly step: string;
  readonly missing: readonly string[];
  readonly reason: string;
}

/**
 * What became of the computer's clocks. `byMs`: how long it slept, how far wall time stepped or instants were moved;
 * minutes of a zone change as milliseconds. `fromT0Ms` is null before the pump's start.
 */
export interface ClockEventMeasure {
  readonly seq: number;
  readonly what: 'slept' | 're-based' | 'clock stepped' | 'zone changed';
  readonly byMs: number;
  readonly fromT0Ms: number | null;
}

/**
 * What became of a cue. `sounded` says that it was asked of the sound card, not that it was heard. `missing`: an
 * instant came due that has a cue, and no window told what became of it; the entry is then that of the instant.
 */
export interface CueMeasure {
  readonly seq: number;
  readonly cue: string;
  readonly dueFromT0Ms: number | null;
  readonly outcome: 'sounded' | 'late' | 'silent' | 'missing';
  readonly lateMs: number;
}

/** A second computation of the dose. */
export interface DoubleCheckMeasure {
  readonly seq: number;
  readonly by: string;
  /** Who entered the order, height and weight that it is held against, each once. */
  readonly firstBy: readonly string[];
  readonly sameHands: boolean;
  readonly agrees: boolean;
  /** It agreed only after a difference had been shown. */
  readonly afterDifference: boolean;
}

/** A deviation that a person stated. */
export interface StatedMeasure {
  readonly seq: number;
  readonly words: string;
  readonly reason: string;
  readonly by: string;
}
