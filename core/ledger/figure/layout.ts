/** Where things lie in the drawing of a session's figure, in its own units, which are pixels at their natural size. */

export const TEXT_SIZE = 11;
export const LINE_HEIGHT = 15;
export const MARGIN = 12;
/** What the names of the lanes need. */
export const GUTTER = 112;
export const HEAD_HEIGHT = 58;
/** Planned above, actual below. */
export const BAR_HEIGHT = 9;
export const BARS_HEIGHT = 2 * BAR_HEIGHT + 5;

/** A letter's advance as a share of its size: wide enough for the words and faces that are used; tests measure it. */
const LETTER_EM = 0.56;

/** Least distance between two times on the axis. */
const TICK_ROOM = 46;
const TICK_STEPS_S = [60, 120, 300, 600, 1200, 1800, 3600, 7200, 14_400, 86_400];

export interface Axis {
  readonly fromS: number;
  readonly toS: number;
  readonly leftX: number;
  readonly rightX: number;
}

export const xOf = ({ fromS, toS, leftX, rightX }: Axis, atS: number): number =>
  leftX + ((atS - fromS) / (toS - fromS)) * (rightX - leftX);

/** The times that are written on the axis: as many as have room. */
export function ticksOf(axis: Axis): number[] {
  const perS = (axis.rightX - axis.leftX) / (axis.toS - axis.fromS);
  const step = TICK_STEPS_S.find((stepS) => stepS * perS >= TICK_ROOM) ?? axis.toS - axis.fromS;
  const first = Math.ceil(axis.fromS / step);
  const last = Math.floor(axis.toS / step);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, index) => (first + index) * step);
}

/** Breaks words into lines of a width; a word that is wider stands alone. */
export function linesOf(words: string, width: number, size = TEXT_SIZE): string[] {
  const most = Math.max(1, Math.floor(width / (LETTER_EM * size)));
  const lines: string[] = [];
  for (const word of words.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && `${last} ${word}`.length <= most) lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}

export const widthOf = (words: string, size = TEXT_SIZE): number => words.length * LETTER_EM * size;
