import { expect as expectShown } from 'playwright/test';
import { describe, expect, test } from 'vitest';
import { brokenAt, entriesIn, kindsIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { nurseAt } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';

describe.skipIf(CHROMIUM === null)('two consoles', () => {
  const screens = carriedScreens();

  test('that confirm the same step at once enter it once', async () => {
    const pages = await Promise.all([screens.open('console'), screens.open('console')]);
    const nurses = pages.map((page) => nurseAt(page));
    for (const [index, nurse] of nurses.entries()) await nurse.signIn(index === 0 ? 'MO' : 'TK', 'nurse');
    const [first] = pages;
    if (first === undefined) throw new Error('there is no first console');
    const sessionId = await sessionBefore(first, 'filter');
    for (const nurse of nurses) await nurse.stateIs('line primed');
    const kinds = () => kindsIn(screens.carrier().ledgerFile, sessionId);
    const checks = kinds().filter((kind) => kind === 'check').length;

    for (const number of [2, 3, 4]) {
      await Promise.all(nurses.map((nurse) => nurse.look()));
      await Promise.all(nurses.map((nurse) => nurse.press(String(number))));
      for (const nurse of nurses) await expectShown(nurse.taskLine(number)).toHaveAttribute('data-done', 'true');
    }
    expect(kinds().filter((kind) => kind === 'check')).toHaveLength(checks + 3);

    for (const nurse of nurses) await expectShown(nurse.wayOnLine).toHaveAttribute('data-open', 'true');
    await Promise.all(nurses.map((nurse) => nurse.look()));
    await Promise.all(nurses.map((nurse) => nurse.press('Enter')));
    for (const nurse of nurses) await nurse.stateIs('infusing');
    expect(kinds().filter((kind) => kind === 'start-pump')).toHaveLength(1);
    expect(brokenAt(entriesIn(screens.carrier().ledgerFile))).toEqual([]);
  });
});
