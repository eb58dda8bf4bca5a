import type { SessionRecord } from '../procedure/record.ts';

/** Words that stand on everything printed of a session. */
export function marksOf(record: SessionRecord): string[] {
  const regimen = record.order?.regimen;
  return [
    ...(record.practice ? ['PRACTICE, not for a patient'] : []),
    ...(regimen !== undefined && !regimen.onLabel ? [`off label: ${regimen.name}`] : []),
  ];
}
