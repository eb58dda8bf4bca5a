import { execFileSync } from 'node:child_process';

/** Poppler reads what was printed, which nothing of ours had a hand in. */
const read = (words: readonly string[], pdf: Uint8Array): string =>
  execFileSync('pdftotext', [...words, '-', '-'], { input: pdf, encoding: 'utf8' });

/** A word on a page, points from its upper left corner. */
export interface WordBox {
  readonly text: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

const WORD = /<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)<\/word>/g;

/** Every word of a sheet of one page, with where it stands. */
export const wordBoxes = (pdf: Uint8Array): WordBox[] =>
  [...read(['-bbox'], pdf).matchAll(WORD)].map((match) => {
    const [left = 0, top = 0, right = 0, bottom = 0] = match.slice(1, 5).map(Number);
    return { text: match[5] ?? '', left, top, right, bottom };
  });

/** What stands on a sheet in the order in which it was set, spaces and line ends made one. */
export const printedText = (pdf: Uint8Array): string =>
  read(['-raw', '-enc', 'UTF-8'], pdf).replaceAll('\u03BC', 'µ').replace(/\s+/g, ' ').trim();

/** Whether poppler is here; where not, why nothing was read with it is printed. */
export const hasPoppler = ((): boolean => {
  try {
    execFileSync('pdftotext', ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    console.warn('printed words are not read here: pdftotext (poppler-utils) is missing');
    return false;
  }
})();
