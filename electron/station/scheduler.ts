import type { Clock } from './clock.ts';
import type { Desk } from './desk.ts';

/** Looked at again at least this often: a clock that jumped must not leave an instant waiting. */
const SLICE_MS = 1000;

/**
 * Turns due instants into entries as they come. Knows no instant of its own: it asks the desk for the next one each
 * time, so an instant that was moved or fell away needs no cancelling. One that cannot be entered is tried again: the
 * ledger may be writable a moment later, and a station that ends here would take the countdowns with it.
 */
export function startScheduler(
  desk: Desk,
  clock: Clock,
  { onRung, onTrouble }: { onRung: () => void; onTrouble: (error: unknown) => void },
): { look(): void; stop(): void } {
  let timer: NodeJS.Timeout | undefined;

  function look(): void {
    clearTimeout(timer);
    const rang = enterDues();
    if (rang === true) onRung();
    timer = setTimeout(look, rang === 'trouble' ? SLICE_MS : untilNextMs());
  }

  function enterDues(): boolean | 'trouble' {
    try {
      return desk.ringBefore(clock.now());
    } catch (error) {
      onTrouble(error);
      return 'trouble';
    }
  }

  function untilNextMs(): number {
    const next = desk.nextDue();
    const waitMs = next === null ? SLICE_MS : (next.due.dueAtMs - clock.now().continuousMs) / clock.rate;
    return Math.min(SLICE_MS, Math.max(1, Math.ceil(waitMs)));
  }

  look();
  return { look, stop: () => clearTimeout(timer) };
}
