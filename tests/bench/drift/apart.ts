/** A count on the board as it changed from one text to the next, by the page's own clock. */
export interface Flip {
  /** Which count: 0 is the weightier one. */
  readonly count: number;
  readonly before: string;
  readonly after: string;
  /** The frame that drew the new text. Until then the old one was seen. */
  readonly atPageMs: number;
  /** How long that frame was after the one before: on a machine that is busy elsewhere, longer than most. */
  readonly frameMs: number;
}

/** Milliseconds by which a shown text is beside what is left; 0 while it stands for it. */
export function apartMs(shown: string, leftMs: number): number {
  const { fromMs, toMs } = standsFor(shown);
  return Math.max(0, fromMs - leftMs, leftMs - toMs);
}

/**
 * How far a count was from the truth around a flip: the text that went, at the last moment it was seen, and the one that
 * came, at the first. Between two flips the text stands still, so it is nowhere further away.
 */
export const apartAtFlipMs = ({ before, after }: Flip, leftMs: number): number =>
  Math.max(apartMs(before, leftMs), apartMs(after, leftMs));

/** `2:05` stands for all that is rounded up to it; `+0:03` for the time from three seconds over to four. */
function standsFor(shown: string): { fromMs: number; toMs: number } {
  const [, over, minutes, seconds] = /^(\+?)(\d+):(\d\d)$/.exec(shown) ?? [];
  if (minutes === undefined || seconds === undefined) throw new Error(`"${shown}" is not a count`);
  const wholeMs = (Number(minutes) * 60 + Number(seconds)) * 1000;
  if (over === '+') return { fromMs: -wholeMs - 1000, toMs: -wholeMs };
  return { fromMs: Math.max(0, wholeMs - 1000), toMs: wholeMs };
}
