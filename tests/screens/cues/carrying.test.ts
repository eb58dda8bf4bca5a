import { afterEach, describe, expect, test } from 'vitest';
import { type Carrying, carrying, type Wish } from '../../../renderer/cues/carrying.ts';

/** Node's own lock manager: one for the process, as a browser's is one for its pages. */
const { locks } = navigator;
const SOON = { timeout: 10_000 };
const opened: Carrying[] = [];

function windowOf(screen: 'console' | 'board', wish: Wish): Carrying {
  const one = carrying(screen, locks, () => {});
  one.wish(wish);
  opened.push(one);
  return one;
}

const rolesOf = (...windows: readonly Carrying[]): string[] => windows.map((one) => one.carrier());

afterEach(async () => {
  for (const one of opened.splice(0)) one.wish('none');
  await expect.poll(async () => (await locks.query()).held?.length, SOON).toBe(0);
});

describe('of the windows that could sound', () => {
  test('the one on the chosen screen does, whichever opened first', async () => {
    const console_ = windowOf('console', 'wait');
    await expect.poll(() => rolesOf(console_), SOON).toEqual(['this']);
    const board = windowOf('board', 'take');
    await expect.poll(() => rolesOf(console_, board), SOON).toEqual(['another', 'this']);
  });

  test('the other does once the chosen one is gone, and gives way when it is back', async () => {
    const [console_, board] = [windowOf('console', 'wait'), windowOf('board', 'take')];
    await expect.poll(() => rolesOf(console_, board), SOON).toEqual(['another', 'this']);
    board.wish('none');
    await expect.poll(() => rolesOf(console_, board), SOON).toEqual(['this', 'another']);
    board.wish('take');
    await expect.poll(() => rolesOf(console_, board), SOON).toEqual(['another', 'this']);
  });

  test('of two of the chosen screen one does, and the second takes over from it', async () => {
    const [first, second] = [windowOf('console', 'take'), windowOf('console', 'take')];
    await expect.poll(() => rolesOf(first, second), SOON).toEqual(['this', 'another']);
    first.wish('none');
    await expect.poll(() => rolesOf(first, second), SOON).toEqual(['another', 'this']);
  });

  test('never two do, whatever they wish and in whatever order', async () => {
    const windows = [windowOf('console', 'take'), windowOf('board', 'wait'), windowOf('console', 'wait')];
    const wishes: Wish[] = ['take', 'wait', 'none', 'take', 'none', 'wait', 'take', 'none', 'wait'];
    for (const [index, wish] of wishes.entries()) {
      windows[(index * 2) % windows.length]?.wish(wish);
      await new Promise((resolve) => setTimeout(resolve, index * 7));
      expect(rolesOf(...windows).filter((role) => role === 'this').length).toBeLessThanOrEqual(1);
    }
  });

  test('none does where nothing would come out of any, and all know it', async () => {
    const [console_, board] = [windowOf('console', 'take'), windowOf('board', 'wait')];
    await expect.poll(() => rolesOf(console_, board), SOON).toEqual(['this', 'another']);
    console_.wish('none');
    board.wish('none');
    await expect.poll(() => rolesOf(console_, board), SOON).toEqual(['none', 'none']);
  });
});
