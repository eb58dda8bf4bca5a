const EVERY_MS = 1000;

/** Passes things on, and says at most once a second how many there were; nothing of what is over sooner. */
export function* counted<T>(
  things: Iterable<T>,
  total: number,
  noun: string,
  say: (words: string) => void,
): Generator<T> {
  let done = 0;
  let saidAtMs = performance.now();
  let saidOf = 0;
  for (const thing of things) {
    yield thing;
    done += 1;
    const nowMs = performance.now();
    if (nowMs - saidAtMs < EVERY_MS) continue;
    saidAtMs = nowMs;
    saidOf = done;
    say(`${done} of ${total} ${noun}`);
  }
  if (saidOf > 0 && saidOf < done) say(`${done} of ${total} ${noun}`);
}
