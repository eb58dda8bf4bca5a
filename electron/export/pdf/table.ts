import { PAGE, type Paper, type Structure } from './paper.ts';
import { needRoom } from './text.ts';

/** A table on paper: a cell holds a line, or a second one set smaller below it. */
export interface PaperTable {
  readonly columns: readonly { readonly name: string; readonly widthPt: number }[];
  readonly rows: readonly (readonly PaperCell[])[];
}

export type PaperCell = string | { readonly text: string; readonly below: string };

const CELL_PT = 7.5;
const BELOW_PT = 5.6;
const GAP_PT = 6;
const BETWEEN_PT = 3.5;

/** Sets a table whose rows stay whole, with its header on every page. */
export function setTable(paper: Paper, { columns, rows }: PaperTable): void {
  const { doc, root } = paper;
  const table = doc.struct('Table');
  root.add(table);
  const header: PaperCell[] = columns.map(({ name }) => name);
  needRoom(doc, heightOf(paper, columns, header) * 3);
  setRow(paper, columns, header, 'TH', table);
  for (const row of rows) {
    if (needRoom(doc, heightOf(paper, columns, row) + BETWEEN_PT)) setRow(paper, columns, header, 'TH', null);
    setRow(paper, columns, row, 'TD', table);
  }
  table.end();
  doc.x = PAGE.leftPt;
}

const halves = (cell: PaperCell) => (typeof cell === 'string' ? { text: cell, below: '' } : cell);

function heightOf({ doc, printable }: Paper, columns: PaperTable['columns'], row: readonly PaperCell[]): number {
  const heights = row.map((cell, index) => {
    const width = (columns[index]?.widthPt ?? 0) - GAP_PT;
    const { text, below } = halves(cell);
    const textPt = doc.font('text').fontSize(CELL_PT).heightOfString(printable(text), { width });
    return textPt + (below === '' ? 0 : doc.fontSize(BELOW_PT).heightOfString(printable(below), { width }));
  });
  return Math.max(...heights);
}

/** A header that is said again on a later page is no part of the table: it is read aloud once. */
function setRow(
  paper: Paper,
  columns: PaperTable['columns'],
  row: readonly PaperCell[],
  kind: 'TH' | 'TD',
  table: Structure | null,
): void {
  const { doc } = paper;
  const top = doc.y;
  const heightPt = heightOf(paper, columns, row);
  const element = table === null ? null : doc.struct('TR');
  if (element !== null) table?.add(element);
  let left: number = PAGE.leftPt;
  row.forEach((cell, index) => {
    const { widthPt = 0 } = columns[index] ?? {};
    const x = left;
    const set = (): void => setCell(paper, cell, x, top, widthPt - GAP_PT, kind);
    if (element === null) asArtifact(doc, set);
    else element.add(doc.struct(kind, {}, set));
    left += widthPt;
  });
  element?.end();
  asArtifact(doc, () => rule(doc, top + heightPt + BETWEEN_PT / 2, kind));
  doc.y = top + heightPt + BETWEEN_PT;
}

function setCell(
  { doc, printable }: Paper,
  cell: PaperCell,
  x: number,
  y: number,
  width: number,
  kind: 'TH' | 'TD',
): void {
  const { text, below } = halves(cell);
  doc
    .font(kind === 'TH' ? 'strong' : 'text')
    .fontSize(CELL_PT)
    .text(printable(text), x, y, { width });
  if (below !== '') doc.font('text').fontSize(BELOW_PT).text(printable(below), x, doc.y, { width });
}

function rule(doc: PDFKit.PDFDocument, y: number, kind: 'TH' | 'TD'): void {
  const left: number = PAGE.leftPt;
  doc
    .save()
    .lineWidth(kind === 'TH' ? 0.6 : 0.25)
    .moveTo(left, y)
    .lineTo(PAGE.widthPt - left, y)
    .stroke()
    .restore();
}

function asArtifact(doc: PDFKit.PDFDocument, draw: () => void): void {
  doc.markContent('Artifact', { type: 'Layout' });
  draw();
  doc.endMarkedContent();
}
