/** A sound that wants its turn. Instants are on the page's clock. */
export interface Turn {
  readonly key: string;
  /** Turns of one kind tell the same: of several that are due, the last is enough. */
  readonly kind: string;
  readonly dueMs: number;
  readonly toneMs: number;
  /** The spoken words after the tone; 0 where none are spoken. */
  readonly wordsMs: number;
  /** Gives way to one that does not. */
  readonly repeat: boolean;
}

export interface Place {
  readonly startMs: number;
  /** Whether there is time for the words before the next sound. */
  readonly words: boolean;
}

interface Span {
  readonly fromMs: number;
  readonly untilMs: number;
}

/** Between two sounds, so that they are heard as two. */
export const BETWEEN_MS = 500;

/**
 * When each of them sounds: at its due instant where that is free, else as soon after as it can, never two at once.
 * Repeats stand back behind what sounds for the first time, and words behind any tone. One that could begin no earlier
 * than the next of its kind is due gets no turn.
 */
export function inTurn(turns: readonly Turn[], busyUntilMs: number): Map<string, Place> {
  const places = new Map<string, Place>();
  const taken: Span[] = [{ fromMs: Number.NEGATIVE_INFINITY, untilMs: busyUntilMs }];
  const placed: [Turn, number][] = [];
  for (const turn of weightiestFirst(turns)) {
    const startMs = freeFrom(turn.dueMs, turn.toneMs, taken);
    if (turns.some(({ kind, dueMs }) => kind === turn.kind && dueMs > turn.dueMs && dueMs <= startMs)) continue;
    taken.push({ fromMs: startMs, untilMs: startMs + turn.toneMs });
    placed.push([turn, startMs]);
  }
  for (const [{ key, toneMs, wordsMs }, startMs] of placed) {
    const quietMs = Math.min(...taken.map(({ fromMs }) => (fromMs > startMs ? fromMs : Number.POSITIVE_INFINITY)));
    places.set(key, { startMs, words: wordsMs > 0 && startMs + toneMs + wordsMs + BETWEEN_MS <= quietMs });
  }
  return places;
}

const weightiestFirst = (turns: readonly Turn[]): Turn[] =>
  [...turns].sort((one, other) => Number(one.repeat) - Number(other.repeat) || one.dueMs - other.dueMs);

/** The first instant from `dueMs` on at which a sound is clear of all others. */
function freeFrom(dueMs: number, lengthMs: number, taken: readonly Span[]): number {
  let startMs = dueMs;
  for (const { fromMs, untilMs } of [...taken].sort((one, other) => one.fromMs - other.fromMs)) {
    const clear = startMs + lengthMs + BETWEEN_MS <= fromMs || startMs >= untilMs + BETWEEN_MS;
    if (!clear) startMs = untilMs + BETWEEN_MS;
  }
  return startMs;
}
