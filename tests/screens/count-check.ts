import type { Page } from 'playwright';
import { expect } from 'playwright/test';

interface Reading {
  readonly pageMs: number;
  readonly leftS: number;
}

/** What the weightiest count shows, and what the page's own clock reads at that. */
export function readCount(page: Page): Promise<Reading> {
  return page.evaluate(() => {
    const label = document.querySelector('[role="timer"]')?.getAttribute('aria-label') ?? '';
    const [, minutes = '0', seconds = '', over] = /^(?:(\d+) min )?(\d+) s( over)?$/.exec(label) ?? [];
    const leftS = (Number(minutes) * 60 + Number(seconds || 'NaN')) * (over === undefined ? 1 : -1);
    return { pageMs: performance.now(), leftS };
  });
}

/** Whole seconds, one frame late at most on either side, at a practice speed. */
const LOOSE_S = 4;

/** Since a reading the count has gone on by exactly the time that has passed, whatever happened between. */
export async function expectCountedOn(page: Page, before: Reading, speed: number): Promise<void> {
  await expect
    .poll(async () => {
      const after = await readCount(page);
      const passedS = ((after.pageMs - before.pageMs) / 1000) * speed;
      return Math.abs(before.leftS - passedS - after.leftS);
    })
    .toBeLessThan(LOOSE_S);
}

/** The count moves, now. */
export async function expectCounting(page: Page): Promise<void> {
  const timer = page.getByRole('timer').first();
  const shown = (await timer.getAttribute('aria-label')) ?? '';
  await expect(timer).not.toHaveAttribute('aria-label', shown);
}
