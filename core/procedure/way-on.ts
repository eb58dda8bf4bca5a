import type { CommandKind, Eye } from './commands.ts';
import { eyeInTurn } from './conditions.ts';
import { beamIsOn, exposureDueAtMs, isWhole } from './exposure.ts';
import { type SessionRecord, stateOf } from './record.ts';
import type { StateName } from './states.ts';

/** The one command that leads on from where a session is. */
export interface WayOn {
  readonly command: CommandKind;
  readonly eye: Eye | null;
  readonly words: string;
  /** Enter waits for this instant, whatever the command itself waits for. */
  readonly notBeforeAtMs: number | null;
}

const STEP: Partial<Record<StateName, readonly [CommandKind, string]>> = {
  planning: ['prepare', 'drug reconstituted, infusate made'],
  prepared: ['prime-line', 'set primed and clamped, vein placed'],
  linePrimed: ['start-pump', 'pump on: both timers start'],
  infusing: ['begin-flush', 'pump off, begin the flush'],
  flushing: ['end-flush', 'flush done'],
  afterCare: ['discharge', 'discharge'],
  stoppedEarly: ['discharge', 'close the session'],
};

export function wayOnOf(record: SessionRecord, atMs: number): WayOn | null {
  const state = stateOf(record);
  if (state === 'waitingForLight' || state === 'lightDelivery') return lightStep(record, atMs);
  const step = STEP[state];
  return step === undefined ? null : { command: step[0], eye: null, words: step[1], notBeforeAtMs: null };
}

function lightStep(record: SessionRecord, atMs: number): WayOn {
  const exposures = record.course?.exposures ?? [];
  const shining = exposures.find(beamIsOn);
  if (shining !== undefined) {
    const words = `${shining.eye} eye: the laser ended the light by itself`;
    return { command: 'beam-off', eye: shining.eye, words, notBeforeAtMs: exposureDueAtMs(shining) };
  }
  if (exposures.every((exposure) => isWhole(exposure, atMs))) {
    return { command: 'end-light', eye: null, words: 'light done, go to after-care', notBeforeAtMs: null };
  }
  const eye = eyeInTurn(record, atMs);
  const begun = exposures.some((exposure) => exposure.eye === eye && exposure.beams.length > 0);
  return { command: 'beam-on', eye, words: `${eye} eye: beam on${begun ? ' again' : ''}`, notBeforeAtMs: null };
}
