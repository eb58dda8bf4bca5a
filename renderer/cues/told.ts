import type { Cue } from '../../core/procedure/cues.ts';

/** Cues of one kind tell the same of the same session: one, and its repeats. */
export const kindOf = ({ sessionId, id }: Cue): string => `${sessionId} ${id}`;

/** The one that was due last; null of none. */
export const latestOf = (cues: readonly Cue[]): Cue | null =>
  cues.reduce<Cue | null>((last, cue) => (last === null || cue.dueAtMs > last.dueAtMs ? cue : last), null);

/**
 * The cues that are over and done with. With each go those of its kind that were due before it: where the instants of a
 * session are set back, what was heard already is not heard again.
 */
export class Told {
  private readonly untilAtMs = new Map<string, number>();

  add(cue: Cue): void {
    this.untilAtMs.set(kindOf(cue), Math.max(cue.dueAtMs, this.untilAtMs.get(kindOf(cue)) ?? cue.dueAtMs));
  }

  has(cue: Cue): boolean {
    const untilAtMs = this.untilAtMs.get(kindOf(cue));
    return untilAtMs !== undefined && cue.dueAtMs <= untilAtMs;
  }
}
