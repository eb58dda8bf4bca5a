import { createRequire } from 'node:module';
import { buffer } from 'node:stream/consumers';
import type { Block, Sheet } from '../../core/report/sheet.ts';

const require = createRequire(import.meta.url);
/** The font's file: 400 is text, 700 is strong. */
export const fontFile = (weight: 400 | 700): string =>
  require.resolve(`@fontsource/b612/files/b612-latin-${weight}-normal.woff`);

const MM = 72 / 25.4;

interface Setting {
  readonly size: [number, number];
  readonly marginPt: number;
  readonly textPt: number;
  readonly strongPt: number;
  readonly labelWidthPt: number;
}

const SETTINGS: Record<Sheet['size'], Setting> = {
  label: { size: [90 * MM, 55 * MM], marginPt: 3.5 * MM, textPt: 7, strongPt: 9.5, labelWidthPt: 44 },
  page: { size: [210 * MM, 297 * MM], marginPt: 20 * MM, textPt: 10, strongPt: 12, labelWidthPt: 130 },
};

const CODE_PT = 15 * MM;

/** A label is one label: where it holds much, it is set smaller, down to these shares. */
const SMALLER: Record<Sheet['size'], readonly number[]> = { label: [0.9, 0.8], page: [] };

/** Sets a sheet as a PDF: black on white, the font embedded. */
export async function pdfOf(sheet: Sheet): Promise<Buffer> {
  let made = await setAt(sheet, 1);
  for (const share of SMALLER[sheet.size]) {
    if (made.pages > 1) made = await setAt(sheet, share);
  }
  return made.bytes;
}

async function setAt(sheet: Sheet, share: number): Promise<{ bytes: Buffer; pages: number }> {
  const whole = SETTINGS[sheet.size];
  const setting = { ...whole, textPt: whole.textPt * share, strongPt: whole.strongPt * share };
  // Read when a sheet is first asked for: a station that starts anew is needed at once.
  const { default: PDFDocument } = await import('pdfkit');
  const doc = new PDFDocument({
    size: setting.size,
    margin: setting.marginPt,
    font: fontFile(400),
    bufferPages: true,
    info: { Title: sheet.title, Creator: 'Dimroom' },
  });
  doc.registerFont('text', fontFile(400)).registerFont('strong', fontFile(700));
  const bytes = buffer(doc);
  for (const mark of sheet.marks) doc.font('strong').fontSize(setting.strongPt).text(mark);
  if (sheet.size === 'page') doc.font('strong').fontSize(16).text(sheet.title).moveDown(0.5);
  for (const block of sheet.blocks) setBlock(doc, block, setting);
  if (sheet.code !== null) await setCode(doc, sheet.code, setting);
  setFeet(doc, sheet, setting);
  const { count: pages } = doc.bufferedPageRange();
  doc.end();
  return { bytes: await bytes, pages };
}

function setFeet(doc: PDFKit.PDFDocument, { foot, title, marks }: Sheet, { size, marginPt, textPt }: Setting): void {
  if (foot === undefined) return;
  const { count } = doc.bufferedPageRange();
  for (let page = 0; page < count; page += 1) {
    doc.switchToPage(page);
    // Below the margin: text there would otherwise begin another page.
    doc.page.margins.bottom = 0;
    const words = [foot, title, `page ${page + 1} of ${count}`, ...marks].join(' · ');
    doc
      .font('text')
      .fontSize(textPt * 0.8)
      .text(words, marginPt, size[1] - marginPt * 0.7, { lineBreak: false });
  }
}

function setBlock(doc: PDFKit.PDFDocument, block: Block, { textPt, strongPt, labelWidthPt, marginPt }: Setting): void {
  switch (block.kind) {
    case 'heading':
      doc.moveDown(0.6).font('strong').fontSize(textPt).text(block.text);
      return;
    case 'line':
      doc
        .font(block.strong ? 'strong' : 'text')
        .fontSize(block.strong ? strongPt : textPt)
        .text(block.text);
      return;
    case 'rows':
      doc.font('text').fontSize(textPt);
      for (const row of block.rows) setRow(doc, row, marginPt, labelWidthPt);
  }
}

/** Both halves of a row stand on one page: where either does not fit, the row begins the next. */
function setRow(
  doc: PDFKit.PDFDocument,
  [what, value]: readonly [string, string],
  left: number,
  labelPt: number,
): void {
  const valuePt = doc.page.width - 2 * left - labelPt;
  const heightPt = Math.max(
    doc.heightOfString(what, { width: labelPt }),
    doc.heightOfString(value, { width: valuePt }),
  );
  if (doc.y + heightPt > doc.page.maxY()) doc.addPage();
  const top = doc.y;
  doc.text(what, left, top, { width: labelPt });
  doc.text(value, left + labelPt, top, { width: valuePt });
  doc.x = left;
  doc.y = top + heightPt;
}

/** A Data Matrix in the lower right corner: an open symbology that hand scanners read (ISO/IEC 16022). */
async function setCode(doc: PDFKit.PDFDocument, text: string, { size, marginPt }: Setting): Promise<void> {
  const { default: bwip } = await import('bwip-js/node');
  const png = await bwip.toBuffer({ bcid: 'datamatrix', text, scale: 4 });
  const [width, height] = size;
  doc.image(png, width - marginPt - CODE_PT, height - marginPt - CODE_PT, { width: CODE_PT });
}
