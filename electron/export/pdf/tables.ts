import type { RecordSheet } from '../../../core/report/record/record-sheet.ts';
import { TEXT_WIDTH_PT } from './paper.ts';
import type { PaperCell, PaperTable } from './table.ts';

const SEQ_PT = 44;
const TIME_PT = 76;
const FROM_T0_PT = 54;
const BY_PT = 50;

/** Every entry: seq, time, from T0, by whom, words; its hash below. */
export function entriesTable({ entries, practice }: RecordSheet): PaperTable {
  return {
    columns: [
      { name: 'entry', widthPt: SEQ_PT },
      { name: 'time', widthPt: TIME_PT },
      { name: 'from T0', widthPt: FROM_T0_PT },
      { name: 'by', widthPt: BY_PT },
      { name: 'what, and SHA-256 of the entry', widthPt: TEXT_WIDTH_PT - SEQ_PT - TIME_PT - FROM_T0_PT - BY_PT },
    ],
    rows: entries.map(({ seq, time, date, fromT0, by, role, words, hash }): PaperCell[] => [
      marked(String(seq), practice),
      { text: time, below: date },
      fromT0,
      { text: by, below: role },
      { text: words, below: hash },
    ]),
  };
}

const DEVIATION_SOURCE_PT = 150;

export function deviationsTable({ deviations, practice }: RecordSheet): PaperTable {
  return {
    columns: [
      { name: 'entry', widthPt: SEQ_PT },
      { name: 'what', widthPt: TEXT_WIDTH_PT - SEQ_PT - DEVIATION_SOURCE_PT },
      { name: 'limit, and where it comes from', widthPt: DEVIATION_SOURCE_PT },
    ],
    rows: deviations.map(({ seq, title, words, limit, source }): PaperCell[] => [
      marked(String(seq), practice),
      { text: words, below: title },
      limit === '' ? source : { text: limit, below: source },
    ]),
  };
}

/** What the drawing shows, in words. */
export function figureTable({ figure, practice }: RecordSheet): PaperTable {
  const quarterPt = TEXT_WIDTH_PT / 4;
  return {
    columns: ['what', 'planned', 'as it went', 'apart'].map((name) => ({ name, widthPt: quarterPt })),
    rows: figure.map(({ what, planned, actual, apart }): PaperCell[] => [
      marked(what, practice),
      planned,
      actual,
      apart,
    ]),
  };
}

/** Practice stands on every line, so that no line cut out of its sheet is taken for a patient's. */
const marked = (text: string, practice: boolean): PaperCell => (practice ? { text, below: 'PRACTICE' } : text);
