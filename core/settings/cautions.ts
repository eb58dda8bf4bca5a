import { PHOTOSENSITIVITY_HOURS } from '../regimen/photosensitivity.ts';
import type { SettingChange } from './names.ts';
import { DEFAULT_SETTINGS, type Settings } from './settings.ts';

/** What to weigh before these settings are taken instead of others: allowed, but not what sources or defaults have. */
export function settingCautions(changes: readonly SettingChange[], after: Settings): string[] {
  return RULES.filter(({ names }) => changes.some(({ name }) => names.includes(name))).flatMap(({ says }) => {
    const words = says(after);
    return words === null ? [] : [words];
  });
}

interface Rule {
  /** Settings that it is about: it is said when one of them changes. */
  readonly names: readonly SettingChange['name'][];
  readonly says: (after: Settings) => string | null;
}

const DOSE_CHANGES = 'what is computed changes: a second person checks it all the same';

const RULES: readonly Rule[] = [
  {
    names: ['lightCareHours', 'profile'],
    says: ({ lightCareHours, profile }) =>
      lightCareHours !== null && lightCareHours < PHOTOSENSITIVITY_HOURS[profile]
        ? `shorter than the ${PHOTOSENSITIVITY_HOURS[profile]} h of the product text: those are counted all the same`
        : null,
  },
  { names: ['formula', 'graduationMl'], says: () => DOSE_CHANGES },
  {
    names: ['limits.inUseMaxMin'],
    says: ({ limits }) =>
      limits.inUseMaxMin > DEFAULT_SETTINGS.limits.inUseMaxMin ? 'longer than the 4 h of the product text' : null,
  },
  {
    names: ['boardWidthMm', 'viewingDistanceM'],
    says: ({ boardWidthMm }) => (boardWidthMm === null ? 'no size is claimed until the board is measured' : null),
  },
];
