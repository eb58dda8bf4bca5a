import type { SessionRecord } from '../procedure/record.ts';

/** Stands on everything that is made of a session of practice. */
export const PRACTICE_MARK = 'PRACTICE, not for a patient';

/** Words that stand on everything printed of a session. */
export function marksOf(record: SessionRecord): string[] {
  const regimen = record.order?.regimen;
  return [
    ...(record.practice ? [PRACTICE_MARK] : []),
    ...(regimen !== undefined && !regimen.onLabel ? [`off label: ${regimen.name}`] : []),
  ];
}
