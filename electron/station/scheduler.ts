import type { Clock } from './clock.ts';
import type { Desk } from './desk.ts';

/** Looked at again at least this often: a clock that jumped must not leave an instant waiting. */
const SLICE_MS = 1000;

/**
 * Turns due instants into entries as they come. Knows no instant of its own: it asks the desk for the next one each
 * time, so an instant that was moved or fell away needs no cancelling.
 */
export function startScheduler(desk: Desk, clock: Clock, onRung: () => void): { look(): void; stop(): void } {
  let timer: NodeJS.Timeout | undefined;

  function look(): void {
    clearTimeout(timer);
    if (desk.ringBefore(clock.now())) onRung();
    const next = desk.nextDue();
    const waitMs = next === null ? SLICE_MS : (next.due.dueAtMs - clock.now().continuousMs) / clock.rate;
    timer = setTimeout(look, Math.min(SLICE_MS, Math.max(1, Math.ceil(waitMs))));
  }

  look();
  return { look, stop: () => clearTimeout(timer) };
}
