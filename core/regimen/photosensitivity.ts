import type { Source } from './source.ts';

/**
 * Hours from the infusion during which skin and eyes stay sensitive to bright light. The product texts differ, so a
 * site chooses one; patients are told the date and time it ends, not a number of days.
 */
export const PHOTOSENSITIVITY_HOURS = { us: 120, eu: 48 } as const;

export const PHOTOSENSITIVITY_SOURCES = {
  us: { text: 'US prescribing information: 5 days', sure: 'found' },
  eu: { text: 'EU-SmPC: 48 hours', sure: 'found' },
} as const satisfies Record<keyof typeof PHOTOSENSITIVITY_HOURS, Source>;
