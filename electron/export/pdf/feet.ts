import type { RecordSheet } from '../../../core/report/record/record-sheet.ts';
import { LAST_Y_PT, PAGE, type Paper, TEXT_WIDTH_PT } from './paper.ts';

const FOOT_PT = 6.2;
const LINE_PT = 9;

/** At the foot of every page: whose record, of which ledger, how to check it, which page; and the marks at its head. */
export function setFeet({ doc, printable }: Paper, { foot, marks, title }: RecordSheet): void {
  const { count } = doc.bufferedPageRange();
  for (let page = 0; page < count; page += 1) {
    doc.switchToPage(page);
    // Below the margin: text there would otherwise begin another page.
    doc.page.margins.bottom = 0;
    doc.markContent('Artifact', { type: 'Pagination' });
    doc.font('text').fontSize(FOOT_PT);
    const words = [...foot, [title, `page ${page + 1} of ${count}`].join(' · ')];
    words.forEach((one, index) => {
      doc.text(printable(one), PAGE.leftPt, LAST_Y_PT + 10 + index * LINE_PT, {
        width: TEXT_WIDTH_PT,
        lineBreak: false,
      });
    });
    // The first page begins with them, larger.
    if (page > 0) setMarks(doc, printable(marks.join(' · ')));
    doc.endMarkedContent();
  }
}

const setMarks = (doc: PDFKit.PDFDocument, marks: string): void =>
  void doc
    .font('strong')
    .fontSize(9)
    .text(marks, PAGE.leftPt, PAGE.topPt * 0.5, { lineBreak: false });
