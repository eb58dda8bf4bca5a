import type { PaperSize } from '../../../core/report/sheet.ts';

/** A kind of paper, and how it is set. All sizes in points. */
export interface Paper {
  readonly size: readonly [width: number, height: number];
  readonly marginPt: number;
  readonly columns: number;
  readonly textPt: number;
  readonly strongPt: number;
  readonly headingPt: number;
  readonly bigPt: number;
  /** Null where there is no room for a title: what stands on it says what it is. */
  readonly titlePt: number | null;
  readonly footPt: number;
  /** Of the left half of a row. */
  readonly labelWidthPt: number;
  /** Whether that half is strong, for rows that are looked up. */
  readonly strongLabels: boolean;
  /** What is one page, and holds too much, is set smaller, by these shares in turn. */
  readonly smaller: readonly number[];
}

const MM = 72 / 25.4;
const A4 = [210 * MM, 297 * MM] as const;

export const PAPERS = {
  label: {
    size: [90 * MM, 55 * MM],
    marginPt: 3.5 * MM,
    columns: 1,
    textPt: 7,
    strongPt: 9.5,
    headingPt: 7,
    bigPt: 12,
    titlePt: null,
    footPt: 5.5,
    labelWidthPt: 44,
    strongLabels: false,
    smaller: [0.9, 0.8],
  },
  wrist: {
    size: [100 * MM, 30 * MM],
    marginPt: 3 * MM,
    columns: 1,
    textPt: 9,
    strongPt: 11,
    headingPt: 9,
    bigPt: 13,
    titlePt: null,
    footPt: 6,
    labelWidthPt: 44,
    strongLabels: false,
    smaller: [0.9, 0.8, 0.7],
  },
  page: {
    size: A4,
    marginPt: 20 * MM,
    columns: 1,
    textPt: 10,
    strongPt: 12,
    headingPt: 10,
    bigPt: 16,
    titlePt: 16,
    footPt: 8,
    labelWidthPt: 130,
    strongLabels: false,
    smaller: [],
  },
  handout: {
    size: A4,
    marginPt: 18 * MM,
    columns: 1,
    textPt: 11.5,
    strongPt: 12.5,
    headingPt: 13,
    bigPt: 19,
    titlePt: 17,
    footPt: 9,
    labelWidthPt: 130,
    strongLabels: false,
    smaller: [0.95, 0.9],
  },
  // Large print is 18 pt or more: no text of it is smaller, the foot excepted, which is for whoever finds a loose page.
  'large handout': {
    size: A4,
    marginPt: 18 * MM,
    columns: 1,
    textPt: 18,
    strongPt: 20,
    headingPt: 21,
    bigPt: 27,
    titlePt: 26,
    footPt: 11,
    labelWidthPt: 200,
    strongLabels: false,
    smaller: [],
  },
  wall: {
    size: A4,
    marginPt: 12 * MM,
    columns: 2,
    textPt: 9.5,
    strongPt: 10.5,
    headingPt: 12,
    bigPt: 16,
    titlePt: 18,
    footPt: 8,
    labelWidthPt: 62,
    strongLabels: true,
    smaller: [0.95, 0.9, 0.85, 0.8],
  },
} as const satisfies Record<PaperSize, Paper>;

/** The paper with everything that is set on it smaller by a share. */
export function setSmaller(paper: Paper, share: number): Paper {
  const { textPt, strongPt, headingPt, bigPt, titlePt } = paper;
  return {
    ...paper,
    textPt: textPt * share,
    strongPt: strongPt * share,
    headingPt: headingPt * share,
    bigPt: bigPt * share,
    titlePt: titlePt === null ? null : titlePt * share,
  };
}
