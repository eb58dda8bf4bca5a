import { expect as expectShown } from 'playwright/test';
import { describe, test } from 'vitest';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { nurseAt } from '../nurse.ts';

describe.skipIf(CHROMIUM === null)('the board in a browser', () => {
  const screens = carriedScreens();

  test('is a page of its own: no strip stands for it, and the key that swaps the monitors says so', async () => {
    const nurse = nurseAt(await screens.open('console'));
    await nurse.stateIs('no session');
    await nurse.pressUntil('y', nurse.said.getByText('in a browser the board is a page of its own'));
    await expectShown(nurse.page.getByRole('region', { name: 'board' })).toHaveCount(0);
  });
});
