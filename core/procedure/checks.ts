import type { StateName } from './states.ts';

/** One thing that a person confirms with a single key, and that a later step waits for. */
export interface Check {
  readonly id: string;
  /** States in which it may be confirmed. */
  readonly states: readonly StateName[];
  /** Confirmed once for each eye, under `id:eye`. */
  readonly perEye: boolean;
  /** What the person says by confirming. */
  readonly words: string;
  /** What a closed step says while it is not confirmed. */
  readonly missing: string;
  readonly source: string;
}

const COMMON_PRACTICE = 'common practice, no source';

export const CHECKS = [
  {
    id: 'consent',
    states: ['planning'],
    perEye: false,
    words: 'consent is signed and in the notes',
    missing: 'consent is not confirmed',
    source: 'local policy',
  },
  {
    id: 'aggressive-first',
    states: ['planning'],
    perEye: false,
    words: 'both eyes: the more aggressive lesion comes first',
    missing: 'that the more aggressive lesion comes first is not confirmed',
    source: 'US prescribing information: more aggressive lesion first, at 15 min',
  },
  {
    id: 'time-out',
    states: ['prepared'],
    perEye: false,
    words: 'time-out: patient, eye and procedure agreed aloud',
    missing: 'the time-out is not done',
    source: 'Universal Protocol UP.01.03.01',
  },
  {
    id: 'inspected',
    states: ['prepared'],
    perEye: false,
    words: 'infusate looked at: no particles, no discolouration, covered from light',
    missing: 'the infusate is not inspected',
    source: COMMON_PRACTICE,
  },
  {
    id: 'd5w-only',
    states: ['prepared'],
    perEye: false,
    words: 'diluted with dextrose 5 % only: no saline in syringe, line or flush',
    missing: 'dextrose 5 % as the only diluent is not confirmed',
    source: 'EU package leaflet, section for professionals: do not use sodium chloride',
  },
  {
    id: 'sound-heard',
    states: ['prepared'],
    perEye: false,
    words: 'sound check was heard where the operator stands',
    missing: 'the sound check is not heard',
    source: 'local practice',
  },
  {
    id: 'filter',
    states: ['linePrimed'],
    perEye: false,
    words: 'in-line filter is in the line, hydrophilic, 1.2 µm or larger',
    missing: 'the in-line filter is not confirmed',
    source: 'EU package leaflet, section for professionals',
  },
  {
    id: 'blood-return',
    states: ['linePrimed'],
    perEye: false,
    words: 'blood return seen',
    missing: 'blood return is not seen',
    source: COMMON_PRACTICE,
  },
  {
    id: 'patency',
    states: ['linePrimed'],
    perEye: false,
    words: 'vein runs freely with dextrose 5 %, no swelling, no pain',
    missing: 'patency of the vein is not confirmed',
    source: 'US prescribing information (value from memory, verify): free-flowing line before start',
  },
  {
    id: 'drops',
    states: ['waitingForLight', 'lightDelivery'],
    perEye: true,
    words: 'anaesthetic drops are in',
    missing: 'anaesthetic drops are not in',
    source: COMMON_PRACTICE,
  },
  {
    id: 'lens-on',
    states: ['waitingForLight', 'lightDelivery'],
    perEye: true,
    words: 'contact lens is on the eye',
    missing: 'the contact lens is not on the eye',
    source: COMMON_PRACTICE,
  },
  {
    id: 'eye-time-out',
    states: ['waitingForLight', 'lightDelivery'],
    perEye: true,
    words: 'second time-out: this eye, this spot, agreed aloud',
    missing: 'the second time-out for this eye is not done',
    source: 'Universal Protocol UP.01.03.01',
  },
  {
    id: 'bracelet',
    states: ['afterCare', 'stoppedEarly'],
    perEye: false,
    words: 'warning bracelet is on',
    missing: 'the warning bracelet is not on',
    source: 'US patient information: wristband reminder',
  },
  {
    id: 'sheet-given',
    states: ['afterCare', 'stoppedEarly'],
    perEye: false,
    words: 'light-precaution sheet with dates and times is given and explained',
    missing: 'the light-precaution sheet is not given',
    source: COMMON_PRACTICE,
  },
] as const satisfies readonly Check[];

export type CheckId = (typeof CHECKS)[number]['id'];

export const CHECK_IDS = CHECKS.map((check) => check.id) as [CheckId, ...CheckId[]];

/** The check of that name. */
export function checkById(id: CheckId): Check {
  const check = CHECKS.find((one) => one.id === id);
  if (check === undefined) throw new RangeError(`there is no check "${id}"`);
  return check;
}
