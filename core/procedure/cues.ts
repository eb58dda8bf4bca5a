import type { SessionView } from '../protocol/view.ts';
import { UNDER_WAY } from './states.ts';

/** The sounds there are, each named for what it tells. */
export const SOUNDS = [
  'infusion-end',
  'light-window-2min',
  'light-window-1min',
  'light-window-open',
  'exposure-end',
  'second-eye-1min',
] as const;

export type SoundName = (typeof SOUNDS)[number];

/** A sound that is due at an instant of the station's continuous clock. */
export interface Cue {
  readonly id: SoundName;
  readonly sessionId: string;
  readonly sound: SoundName;
  readonly dueAtMs: number;
  /** What it tells, for the eye beside the ear. */
  readonly words: string;
}

type Course = NonNullable<SessionView['course']>;

interface CueRule {
  readonly id: SoundName;
  readonly words: string;
  /** How long before its instant it sounds. */
  readonly aheadMs: number;
  /** The instants it belongs to: none where nothing is due. */
  readonly instants: (course: Course) => readonly number[];
}

const MINUTE_MS = 60_000;

const lightDue = ({ lightDueAtMs }: Course): number[] => [lightDueAtMs];

/** One row a cue. The spans ahead are local practice: no source asks for them. */
const CUE_RULES: readonly CueRule[] = [
  { id: 'infusion-end', words: 'infusion at its end: pump off', aheadMs: 0, instants: infusionEnds },
  { id: 'light-window-2min', words: 'light window in 2 min', aheadMs: 2 * MINUTE_MS, instants: lightDue },
  { id: 'light-window-1min', words: 'light window in 1 min', aheadMs: MINUTE_MS, instants: lightDue },
  { id: 'light-window-open', words: 'light window is open', aheadMs: 0, instants: lightDue },
  { id: 'exposure-end', words: 'light at its end', aheadMs: 0, instants: exposureEnds },
  { id: 'second-eye-1min', words: 'second eye to begin within 1 min', aheadMs: MINUTE_MS, instants: secondEyeLimit },
];

/** The cues of a session as its timers stand now, earliest first; those already past are among them. */
export function cuesOf({ sessionId, state, course }: SessionView): Cue[] {
  if (course === null || !UNDER_WAY.includes(state)) return [];
  const cues = CUE_RULES.flatMap(({ id, words, aheadMs, instants }) =>
    instants(course).map((atMs): Cue => ({ id, sessionId, sound: id, dueAtMs: atMs - aheadMs, words })),
  );
  return cues.sort((one, other) => one.dueAtMs - other.dueAtMs);
}

/** Held, or with the pump off, the infusion has no end to come. */
function infusionEnds({ infusionDueAtMs }: Course): number[] {
  return infusionDueAtMs === null ? [] : [infusionDueAtMs];
}

function exposureEnds({ exposures }: Course): number[] {
  return exposures.flatMap(({ beamOnSinceAtMs, plannedMs, deliveredBeforeMs }) =>
    beamOnSinceAtMs === null ? [] : [beamOnSinceAtMs + plannedMs - deliveredBeforeMs],
  );
}

/** The limit is for beginning: once the second eye has had any light there is nothing to warn of. */
function secondEyeLimit({ secondEyeDueAtMs, exposures }: Course): number[] {
  const second = exposures[1];
  if (secondEyeDueAtMs === null || second === undefined) return [];
  const begun = second.deliveredBeforeMs > 0 || second.beamOnSinceAtMs !== null;
  return begun ? [] : [secondEyeDueAtMs];
}
