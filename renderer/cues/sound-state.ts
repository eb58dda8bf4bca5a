/**
 * Whether what is asked of the sound card can be expected to be heard. `doubtful`: it sounds, but somebody should
 * listen. Nothing here can see a loudspeaker that is turned down, or muted by the system: only the sound check can.
 */
export interface SoundState {
  readonly state: 'ready' | 'doubtful' | 'blocked' | 'failed';
  readonly words: string;
}

/** What is known of the way to the loudspeaker. */
export interface SoundFacts {
  /** The state of the audio context; null where there is none. */
  readonly context: string | null;
  /** A sound that could not be loaded. */
  readonly broken: string | null;
  readonly loaded: boolean;
  /** How many devices sound can go to; null where the page is not told. */
  readonly outputs: number | null;
  /** The audio clock runs no longer: the device takes nothing. */
  readonly standsStill: boolean;
  /** Devices came or went since somebody last listened. */
  readonly changed: boolean;
}

/** The first that holds, weightiest first. */
const STATES: readonly [(facts: SoundFacts) => boolean, SoundState][] = [
  [({ context }) => context === null, { state: 'failed', words: 'this screen has no sound: watch the counts' }],
  [({ outputs }) => outputs === 0, { state: 'failed', words: 'no sound device is connected: watch the counts' }],
  [({ context }) => context !== 'running', { state: 'blocked', words: 'sound is waiting for a key press' }],
  [({ standsStill }) => standsStill, { state: 'failed', words: 'the sound device does not answer: watch the counts' }],
  [({ loaded }) => !loaded, { state: 'blocked', words: 'the sounds are being loaded' }],
  [({ changed }) => changed, { state: 'doubtful', words: 'the sound device has changed: press S and listen' }],
];

const READY: SoundState = { state: 'ready', words: 'sound is on' };

export function soundStateOf(facts: SoundFacts): SoundState {
  const { broken } = facts;
  if (broken !== null) return { state: 'failed', words: `the sound "${broken}" cannot be played: watch the counts` };
  return STATES.find(([holds]) => holds(facts))?.[1] ?? READY;
}

/** What is asked for would come out. */
export const canSound = ({ state }: SoundState): boolean => state === 'ready' || state === 'doubtful';
