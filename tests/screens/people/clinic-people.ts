import type { Nurse } from '../nurse.ts';

/** Made up. PINs are in no entry, so that what was kept can be searched for them. */
export const PIN = { AD: '284159', MO: '907163', TK: '341886', RV: '775204', AU: '618350' } as const;

const JOINING = [
  { name: 'Mo Example', initials: 'MO', role: '1' },
  { name: 'Tam Example', initials: 'TK', role: '1' },
  { name: 'Ruh Example', initials: 'RV', role: '2' },
  { name: 'Uma Example', initials: 'AU', role: '4' },
] as const;

/** The first run of a clinic by the keyboard: its administrator, and by that one two nurses, an operator and an auditor. */
export async function beginRoster(nurse: Nurse): Promise<void> {
  const { page } = nurse;
  await nurse.look();
  await nurse.pressUntil('Enter', nurse.form);
  await nurse.type({ name: 'Ada Example', initials: 'AD', role: '5', PIN: PIN.AD, 'PIN again': PIN.AD });
  await nurse.enter();
  await page.getByRole('region', { name: 'recovery code' }).waitFor({ timeout: 60_000 });
  await nurse.press('Enter');
  await page.locator('.head').getByText('AD, administrator').waitFor();
  await nurse.press('u');
  for (const { name, initials, role } of JOINING) {
    await nurse.tell('n', { name, initials, role, PIN: PIN[initials], 'PIN again': PIN[initials] });
    await page.getByRole('region', { name: 'people' }).getByText(name).waitFor();
  }
  await nurse.press('Escape');
}
