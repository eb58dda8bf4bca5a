import { digitSize, NOT_MEASURED_WORDS, tooSmallWords } from '../../core/legibility/digit-size.ts';
import type { Settings } from '../../core/settings/settings.ts';
import type { Notice } from './notices.ts';

/** Where the board is read from, and how wide its picture is on the glass. */
export type BoardPlaced = Pick<Settings, 'viewingDistanceM' | 'boardWidthMm'>;

interface MainNumber {
  /** Null while no number is shown. */
  readonly fontPx: number | null;
  readonly pictureWidthPx: number;
}

/**
 * What there is to say about the size of the main number. That the board was not measured is said only while nothing is
 * counted: nobody takes a rule to it during a treatment.
 */
export function sizeNotice({ fontPx, pictureWidthPx }: MainNumber, placed: BoardPlaced | null): Notice | null {
  if (placed === null) return null;
  const { viewingDistanceM: distanceM, boardWidthMm: pictureWidthMm } = placed;
  if (fontPx === null) return pictureWidthMm === null ? { shape: 'rule', words: NOT_MEASURED_WORDS } : null;
  const words = tooSmallWords(digitSize(fontPx, { pictureWidthPx, pictureWidthMm, distanceM }), distanceM);
  return words === null ? null : { shape: 'rule', words };
}
