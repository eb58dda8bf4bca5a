import { type Anchor, anchorText } from '../ledger/verify.ts';
import { recordTime } from '../time/show.ts';
import type { Sheet } from './sheet.ts';

/** When an anchor was taken, and of which kind of ledger. */
export interface AnchorTaken {
  readonly wallMs: number;
  readonly offsetMin: number;
  readonly practice: boolean;
}

/**
 * The ledger's last entry on a slip of paper, to be kept elsewhere: whoever holds it can tell later whether anything up
 * to that entry was changed or cut away, which no file can show by itself.
 */
export function anchorSlip(anchor: Anchor, { wallMs, offsetMin, practice }: AnchorTaken): Sheet {
  const text = anchorText(anchor);
  return {
    fileName: `ledger-anchor-${anchor.seq}.pdf`,
    title: 'ledger anchor',
    size: 'label',
    marks: practice ? ['PRACTICE, not of a patient'] : [],
    blocks: [
      { kind: 'line', text: `ledger anchor, entry ${anchor.seq}`, strong: true },
      {
        kind: 'rows',
        rows: [
          ['taken', recordTime(wallMs, offsetMin)],
          ['file', anchor.fileId],
          ['sha-256', anchor.hash.slice(0, HALF)],
          ['', anchor.hash.slice(HALF)],
          ['kept by', '………………………'],
        ],
      },
      { kind: 'line', text: 'Keep it away from this computer. It is checked by: ledger verify FILE --anchor TEXT' },
    ],
    code: text,
  };
}

/** A hash is set in two lines, which can be compared by eye. */
const HALF = 32;
