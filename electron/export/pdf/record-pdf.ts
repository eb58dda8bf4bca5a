import { buffer } from 'node:stream/consumers';
import type { RecordSheet } from '../../../core/report/record/record-sheet.ts';
import { setFeet } from './feet.ts';
import { newPaper, type Paper, TEXT_WIDTH_PT } from './paper.ts';
import { drawSvg } from './svg-drawing.ts';
import { setTable } from './table.ts';
import { deviationsTable, entriesTable, figureTable } from './tables.ts';
import { block, heading, line, pairs } from './text.ts';

/** Sets the record of a session as a PDF. The same sheet gives the same bytes. */
export async function recordPdf(sheet: RecordSheet): Promise<Uint8Array> {
  const paper = await newPaper({ title: sheet.title, madeAt: new Date(sheet.madeWallMs) });
  const bytes = buffer(paper.doc);
  for (const mark of sheet.marks) line(paper, mark, { strong: true, sizePt: 12 });
  heading(paper, sheet.title, 1);
  for (const words of sheet.trouble) line(paper, words, { strong: true, sizePt: 9 });
  pairs(paper, sheet.summary);
  setFigure(paper, sheet);
  heading(paper, 'where it departs from its plan', 2);
  if (sheet.deviations.length === 0) line(paper, 'nowhere, by the limits set');
  else setTable(paper, deviationsTable(sheet));
  heading(paper, 'entries', 2);
  setTable(paper, entriesTable(sheet));
  block(paper, 'cautions', sheet.cautions);
  setFeet(paper, sheet);
  paper.root.end();
  paper.doc.end();
  return bytes;
}

function setFigure(paper: Paper, sheet: RecordSheet): void {
  if (sheet.figureSvg === null) return;
  heading(paper, 'planned and as it went, from T0', 2);
  drawSvg(
    paper,
    sheet.figureSvg,
    TEXT_WIDTH_PT,
    'the session as planned and as it went: the table below says the same',
  );
  setTable(paper, figureTable(sheet));
}
