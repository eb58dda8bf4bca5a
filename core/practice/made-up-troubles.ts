import type { HOLD_REASONS } from '../procedure/commands.ts';
import type { StateName } from '../procedure/states.ts';
import type { TroubleId } from '../procedure/trouble.ts';

export const MADE_UP_IDS = [
  'wrong-weight',
  'swelling',
  'back-pain',
  'pump-alarm',
  'early-operator',
  'moved-eye',
] as const;

export type MadeUpId = (typeof MADE_UP_IDS)[number];

/** Where in a session trouble may be thrown in: each has its own measure of how far it is. */
export type TroubledState = Extract<StateName, 'planning' | 'infusing' | 'waitingForLight' | 'lightDelivery'>;

/** What a session's record has to show for the trouble to count as met. */
export type AnsweredBy =
  | {
      readonly by: 'stopping the pump';
      readonly card: TroubleId;
      readonly hold: (typeof HOLD_REASONS)[number];
    }
  | { readonly by: 'taking the beam off' }
  /** Met by what is not done: light before its window. */
  | { readonly by: 'waiting for the window' }
  /** Met by a dose that both computed for the weight that the scale showed. */
  | { readonly by: 'putting the weight right' };

/** Trouble that is thrown into a guided practice session. Nothing of it happened: nobody is treated there. */
export interface MadeUpTrouble {
  readonly id: MadeUpId;
  readonly state: TroubledState;
  /** Between which shares of the planned infusion, of the wait or of the exposure it comes; 0 as soon as it can. */
  readonly share: { readonly from: number; readonly to: number };
  /** As somebody in the room would say it. */
  readonly words: string;
  /** What to press, and no more: the steps are on the card. */
  readonly answer: string;
  readonly answeredBy: AnsweredBy;
  /** Real seconds in which an answer is expected: an aim for practice, no source. Null where there is nothing to press. */
  readonly withinS: number | null;
}

/** Of those that come in the same state a session has one. */
export const MADE_UP_TROUBLES: readonly MadeUpTrouble[] = [
  {
    id: 'wrong-weight',
    state: 'planning',
    share: { from: 0, to: 0 },
    words: 'the second person weighs the patient: the scale shows another weight',
    answer: 'type the weight anew, and have the second person compute again',
    answeredBy: { by: 'putting the weight right' },
    withinS: null,
  },
  {
    id: 'swelling',
    state: 'infusing',
    share: { from: 0.2, to: 0.5 },
    words: 'the patient says the arm stings; it is swelling at the vein',
    answer: 'stop the pump: T and the card of swelling at the vein, or H for extravasation',
    answeredBy: { by: 'stopping the pump', card: 'extravasation', hold: 'extravasation' },
    withinS: 20,
  },
  {
    id: 'back-pain',
    state: 'infusing',
    share: { from: 0.2, to: 0.5 },
    words: 'the patient says the back hurts; it began just now',
    answer: 'stop the pump: T and the card of pain, or H for pain',
    answeredBy: { by: 'stopping the pump', card: 'pain', hold: 'pain' },
    withinS: 20,
  },
  {
    id: 'pump-alarm',
    state: 'infusing',
    share: { from: 0.2, to: 0.5 },
    words: 'the pump alarms: occlusion, and it stands still',
    answer: 'keep the pump off: T and the card of the pump, or H for the pump',
    answeredBy: { by: 'stopping the pump', card: 'pump', hold: 'pump' },
    withinS: 20,
  },
  {
    id: 'early-operator',
    state: 'waitingForLight',
    share: { from: 0.3, to: 0.6 },
    words: 'the operator says all is ready, and would begin the light now',
    answer: 'wait: light begins when its window opens, and not before',
    answeredBy: { by: 'waiting for the window' },
    withinS: null,
  },
  {
    id: 'moved-eye',
    state: 'lightDelivery',
    share: { from: 0.1, to: 0.3 },
    words: 'the patient coughs, and the eye has moved',
    answer: 'beam off at once: B, or T and the card of movement',
    answeredBy: { by: 'taking the beam off' },
    withinS: 10,
  },
];

/** The trouble of that id. */
export function madeUpById(id: MadeUpId): MadeUpTrouble {
  const trouble = MADE_UP_TROUBLES.find((one) => one.id === id);
  if (trouble === undefined) throw new RangeError(`there is no made-up trouble "${id}"`);
  return trouble;
}
