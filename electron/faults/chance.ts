/** Chance that a seed decides: the same seed, the same faults at the same places. */
export interface Chance {
  /** From 0 up to 1. */
  share(): number;
  /** From 0 up to and without `below`. */
  below(below: number): number;
  among<T>(list: readonly T[]): T;
}

/** Mulberry32. */
export function chanceOf(seed: number): Chance {
  let state = seed >>> 0;
  const share = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (limit: number): number => Math.floor(share() * limit);
  return {
    share,
    below,
    among: (list) => {
      const one = list[below(list.length)];
      if (one === undefined) throw new RangeError('there is nothing to choose from');
      return one;
    },
  };
}
