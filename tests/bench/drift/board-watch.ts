import type { Page } from 'playwright';
import type { Flip } from './apart.ts';

/** What was seen on the board since the last look. */
export interface Seen {
  readonly flips: readonly Flip[];
  readonly frames: number;
  readonly medianFrameMs: number;
  readonly longestFrameMs: number;
}

interface Watch {
  flips: Flip[];
  frameMs: number[];
}
declare global {
  interface Window {
    boardWatch?: Watch;
  }
}

/** From now on the page looks at its own digits in every frame. */
export async function watchCounts(board: Page): Promise<() => Promise<Seen>> {
  await board.evaluate(() => {
    const watch: Watch = { flips: [], frameMs: [] };
    window.boardWatch = watch;
    const sign = (cell: Element): string => {
      if (cell.classList.contains('big-count-colon')) return ':';
      if (cell.classList.contains('big-count-plus')) return '+';
      return cell.classList.contains('big-count-digit') ? (cell.textContent ?? '') : '';
    };
    const counts = (): string[] =>
      [...document.querySelectorAll('.big-count')].map((count) => [...count.children].map(sign).join(''));
    let shown = counts();
    let lastMs = performance.now();
    const look = (): void => {
      const atPageMs = performance.now();
      const now = counts();
      for (const [count, after] of now.entries()) {
        const before = shown[count];
        const frameMs = atPageMs - lastMs;
        if (before !== undefined && before !== after) watch.flips.push({ count, before, after, atPageMs, frameMs });
      }
      watch.frameMs.push(atPageMs - lastMs);
      shown = now;
      lastMs = atPageMs;
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  return () => board.evaluate(taken);
}

/** In the page: hands over what was seen, and begins anew. */
function taken(): Seen {
  const watch = window.boardWatch;
  if (watch === undefined) throw new Error('the page does not watch its counts');
  const flips = watch.flips.splice(0);
  const frameMs = watch.frameMs.splice(0).sort((one, other) => one - other);
  const medianFrameMs = frameMs[Math.floor(frameMs.length / 2)] ?? 0;
  return { flips, frames: frameMs.length, medianFrameMs, longestFrameMs: frameMs.at(-1) ?? 0 };
}
