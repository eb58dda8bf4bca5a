import type { Page } from 'playwright';
import { expect } from 'playwright/test';
import type { Stage } from './whole-session.ts';

interface Shown {
  /** All of these stand on the board. */
  readonly words: readonly (string | RegExp)[];
  /** The counts it shows, weightier first: whether each runs or stands still. */
  readonly counts: readonly ('runs' | 'stands')[];
}

/** Practice runs fast: how long hands take decides whether a count is past its end. */
const WINDOW = /to the light window|light window is open/;
const INFUSION = /infusion ends in|infusion over its time: pump off/;
const HELD = /infusion held, (left|over by)/;

const SHOWN: Record<Stage, Shown> = {
  planning: { words: ['planning', 'make up the drug once two people have computed the dose'], counts: [] },
  prepared: { words: ['drug made up', 'prime the line', 'K-2041', 'right eye'], counts: [] },
  'line primed': { words: ['line primed', 'start the pump'], counts: [] },
  infusing: { words: ['infusing', WINDOW, INFUSION, 'flush, 5 mL'], counts: ['runs', 'runs'] },
  held: { words: ['infusion held', WINDOW, HELD], counts: ['runs', 'stands'] },
  resumed: { words: ['infusing', WINDOW, INFUSION], counts: ['runs', 'runs'] },
  flushing: { words: ['flushing', WINDOW, 'drops, lens, read the laser'], counts: ['runs', 'runs'] },
  waiting: { words: ['waiting for light', WINDOW, 'beam on, right eye'], counts: ['runs'] },
  'light on': { words: ['light on, right eye', 'of 50 J/cm²', 'light done, then after-care'], counts: ['runs'] },
  'light done': { words: ['light done', 'after-care'], counts: [] },
  'after-care': { words: ['after-care', 'keep the patient from bright light'], counts: [] },
  discharged: { words: ['discharged'], counts: [] },
};

/** What the board shows at a stage: its words, counts that run or stand, and whether this is practice. */
export async function boardShows(board: Page, stage: Stage, { practice } = { practice: true }): Promise<void> {
  const { words, counts } = SHOWN[stage];
  const timers = board.getByRole('timer');
  for (const one of words) await expect(board.getByText(one).first(), stage).toBeVisible();
  await expect(board.getByText('practice')).toHaveCount(practice ? 1 : 0);
  await expect(timers, stage).toHaveCount(counts.length);
  const before = await Promise.all(counts.map((_, index) => timers.nth(index).getAttribute('aria-label')));
  for (const [index, label] of before.entries()) {
    expect(label).toMatch(/^(\d+ min )?\d+ s( over)?$/);
    if (counts[index] === 'runs') await expect(timers.nth(index), stage).not.toHaveAttribute('aria-label', label ?? '');
  }
  for (const [index, label] of before.entries()) {
    if (counts[index] === 'stands') await expect(timers.nth(index), stage).toHaveAttribute('aria-label', label ?? '');
  }
}
