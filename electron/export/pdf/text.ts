import { LAST_Y_PT, PAGE, type Paper, TEXT_WIDTH_PT } from './paper.ts';

const TEXT_PT = 8.5;
const HEADING_PT = { 1: 16, 2: 11 } as const;
const LABEL_WIDTH_PT = 110;
const LINE_GAP_PT = 3;

export function heading({ doc, root, printable }: Paper, text: string, level: 1 | 2): void {
  doc.font('strong').fontSize(HEADING_PT[level]);
  if (level === 2) doc.moveDown(0.6);
  // A heading stands with what it heads.
  needRoom(doc, HEADING_PT[level] * 4);
  root.add(
    doc.struct(`H${level}`, {}, () => void doc.text(printable(text), PAGE.leftPt, doc.y, { width: TEXT_WIDTH_PT })),
  );
  doc.moveDown(0.3);
}

export function line(
  { doc, root, printable }: Paper,
  text: string,
  { strong = false, sizePt = TEXT_PT }: { strong?: boolean; sizePt?: number } = {},
): void {
  doc.font(strong ? 'strong' : 'text').fontSize(sizePt);
  const words = printable(text);
  needRoom(doc, doc.heightOfString(words, { width: TEXT_WIDTH_PT }));
  root.add(doc.struct('P', {}, () => void doc.text(words, PAGE.leftPt, doc.y, { width: TEXT_WIDTH_PT })));
  doc.y += LINE_GAP_PT;
}

/** Lines that stand together under their heading: where they do not fit on this page, all of them are on the next. */
export function block(paper: Paper, title: string, lines: readonly string[]): void {
  const { doc, printable } = paper;
  doc.font('text').fontSize(TEXT_PT);
  const textPt = lines.reduce((sum, text) => sum + doc.heightOfString(printable(text), { width: TEXT_WIDTH_PT }), 0);
  needRoom(doc, textPt + lines.length * LINE_GAP_PT + HEADING_PT[2] * 3);
  heading(paper, title, 2);
  for (const text of lines) line(paper, text);
}

/** Names and values beside one another. */
export function pairs(
  { doc, root, printable }: Paper,
  rows: readonly (readonly [what: string, value: string])[],
): void {
  doc.font('text').fontSize(TEXT_PT);
  const valuePt = TEXT_WIDTH_PT - LABEL_WIDTH_PT;
  for (const [what, value] of rows) {
    const words = printable(value);
    const heightPt = doc.heightOfString(words, { width: valuePt });
    needRoom(doc, heightPt);
    const top = doc.y;
    root.add(
      doc.struct('P', {}, () => {
        doc.text(printable(what), PAGE.leftPt, top, { width: LABEL_WIDTH_PT - 8 });
        doc.text(words, PAGE.leftPt + LABEL_WIDTH_PT, top, { width: valuePt });
      }),
    );
    doc.y = top + heightPt + 1.5;
  }
}

/** Begins the next page where so much does not fit on this one. */
export function needRoom(doc: PDFKit.PDFDocument, heightPt: number): boolean {
  if (doc.y + heightPt <= LAST_Y_PT || doc.y <= PAGE.topPt) return false;
  doc.addPage();
  return true;
}
