import { type Effect, SCREENING, type ScreeningQuestion } from '../procedure/screening.ts';
import { PHOTOSENSITIVITY_HOURS } from '../regimen/photosensitivity.ts';
import type { Settings } from './settings.ts';

type Profile = Settings['profile'];

/** Something in which the two product texts differ, and what each asks for. */
export interface ProfileDifference {
  readonly what: string;
  readonly asks: Readonly<Record<Profile, string>>;
}

/** Where all of them come from; each beside its own figure too, as `PHOTOSENSITIVITY_SOURCES` and in `SCREENING`. */
export const PROFILE_SOURCE = 'US prescribing information; EU-SmPC';

const EFFECT_WORDS = {
  stop: 'contraindicated',
  decide: 'caution',
  mind: 'kept in view',
} as const satisfies Record<Effect, string>;

/** What follows from the product text that is chosen: everything in which the two differ here. */
export const PROFILE_DIFFERENCES: readonly ProfileDifference[] = [
  {
    what: 'light precautions',
    asks: { us: `${PHOTOSENSITIVITY_HOURS.us} h`, eu: `${PHOTOSENSITIVITY_HOURS.eu} h` },
  },
  {
    what: 'both eyes, one infusion',
    asks: {
      us: 'if an earlier treatment was tolerated; else the physician decides by name',
      eu: 'no data: the physician decides by name',
    },
  },
  ...(SCREENING as readonly ScreeningQuestion[])
    .filter(({ effect }) => effect.us !== effect.eu)
    .map(({ words, effect }) => ({
      what: `screening: ${words}`,
      asks: { us: EFFECT_WORDS[effect.us], eu: EFFECT_WORDS[effect.eu] },
    })),
];
