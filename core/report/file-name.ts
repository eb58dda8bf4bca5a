import type { SessionRecord } from '../procedure/record.ts';

/**
 * The name of a session's sheet as a file: which sheet, whose, and that it is practice where it is. Nothing in it that a
 * disk does not take, and nothing of a patient but the code.
 */
export function sheetFileName({ practice, patient }: SessionRecord, sheet: string): string {
  const whose = patient?.patientCode ?? 'no-patient';
  return `${practice ? 'PRACTICE-' : ''}${sheet}-${whose.replaceAll(/[^A-Za-z0-9-]/g, '_')}.pdf`;
}
