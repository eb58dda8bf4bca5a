import { LEAST_ARC_MIN } from './least-size.ts';
import { arcMinutes, farthestM } from './visual-angle.ts';

/**
 * Height of a digit of the screens' font, B612, in its font size. The font's own outlines: 1500 of 2000 units; round
 * digits reach 17 units further at either end, which is not counted.
 */
export const DIGIT_HEIGHT_EM = 0.75;

/** Where a picture of known width is read from. */
export interface Reading {
  /** Width of the picture in CSS pixels. */
  readonly pictureWidthPx: number;
  /** Its width as measured on the glass, mm; null where nobody has measured it. */
  readonly pictureWidthMm: number | null;
  /** From the eye to the glass, m. */
  readonly distanceM: number;
}

export interface DigitSize {
  readonly heightPx: number;
  /** On the glass; null where the picture's width was not measured. */
  readonly measured: { readonly heightMm: number; readonly arcMin: number } | null;
}

/** How large digits of a font size are, in CSS pixels, mm and minutes of arc. */
export function digitSize(fontPx: number, { pictureWidthPx, pictureWidthMm, distanceM }: Reading): DigitSize {
  const heightPx = fontPx * DIGIT_HEIGHT_EM;
  if (pictureWidthMm === null) return { heightPx, measured: null };
  const heightMm = (heightPx * pictureWidthMm) / pictureWidthPx;
  return { heightPx, measured: { heightMm, arcMin: arcMinutes(heightMm, distanceM) } };
}

export const NOT_MEASURED_WORDS = "size not measured: set the board's width";

/** That the main number is too small for its distance, and up to where it may be read; null where it is large enough. */
export function tooSmallWords({ measured }: DigitSize, distanceM: number): string | null {
  if (measured === null || measured.arcMin >= LEAST_ARC_MIN.mainNumber) return null;
  const upToM = Math.floor(farthestM(measured.heightMm, LEAST_ARC_MIN.mainNumber) * 10) / 10;
  return `number too small for ${distanceM} m: read it from no farther than ${upToM.toFixed(1)} m`;
}
