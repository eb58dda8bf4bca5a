import type { Page } from 'playwright';
import { type Nurse, nurseAt } from './nurse.ts';

/** The same person where people are on a roster: a PIN stands in place of a role that is typed. */
export function signedInNurseAt(page: Page, pins: Readonly<Record<string, string>>, opensMs?: number): Nurse {
  const nurse = nurseAt(page, undefined, opensMs);
  const pinOf = (initials: string): string => {
    const pin = pins[initials.toUpperCase()];
    if (pin === undefined) throw new Error(`${initials} is not on the roster`);
    return pin;
  };
  return {
    ...nurse,
    signIn: (initials) => nurse.tell('w', { initials, PIN: pinOf(initials) }),
    taskWith: (number, { 'other initials': other, 'other role': _role, ...typed }) =>
      nurse.taskWith(
        number,
        other === undefined ? typed : { 'other initials': other, 'other PIN': pinOf(other), ...typed },
      ),
  };
}
