/**
 * Which stretch of `everyMs` an instant lies in, counted from another: while it stays the same, nothing needs drawing.
 * Counted from a due instant, with a second a whole number of stretches, whole seconds to it change only with the stretch.
 */
export const stretchAt = (atMs: number, everyMs: number, fromMs: number): number =>
  Math.floor((atMs - fromMs) / everyMs);
