import { createRequire } from 'node:module';
import { buffer } from 'node:stream/consumers';
import type { Sheet } from '../../core/report/sheet.ts';
import { setBlock } from './printing/blocks.ts';
import { Flow } from './printing/flow.ts';
import { PAPERS, type Paper, setSmaller } from './printing/papers.ts';

const require = createRequire(import.meta.url);
/** The font's file: 400 is text, 700 is strong. */
export const fontFile = (weight: 400 | 700): string =>
  require.resolve(`@fontsource/b612/files/b612-latin-${weight}-normal.woff`);

const MM = 72 / 25.4;

const CODE_PT = 15 * MM;

/** Sets a sheet as a PDF: black on white, the font embedded. */
export async function pdfOf(sheet: Sheet): Promise<Buffer> {
  const paper = PAPERS[sheet.size];
  let made = await setOn(sheet, paper);
  for (const share of paper.smaller) {
    if (made.pages > 1) made = await setOn(sheet, setSmaller(paper, share));
  }
  return made.bytes;
}

async function setOn(sheet: Sheet, paper: Paper): Promise<{ bytes: Buffer; pages: number }> {
  // Read when a sheet is first asked for: a station that starts anew is needed at once.
  const { default: PDFDocument } = await import('pdfkit');
  const doc = new PDFDocument({
    size: [...paper.size],
    margin: paper.marginPt,
    font: fontFile(400),
    bufferPages: true,
    lang: sheet.language ?? 'en',
    displayTitle: true,
    info: { Title: sheet.title, Creator: 'Dimroom' },
  });
  doc.registerFont('text', fontFile(400)).registerFont('strong', fontFile(700));
  const bytes = buffer(doc);
  setHead(doc, sheet, paper);
  const flow = new Flow(doc, paper);
  for (const block of sheet.blocks) setBlock(flow, block);
  if (sheet.code !== null) await setCode(doc, sheet.code, paper);
  setFeet(doc, sheet, paper);
  const { count: pages } = doc.bufferedPageRange();
  doc.end();
  return { bytes: await bytes, pages };
}

/** Marks and title, over the whole width. */
function setHead(doc: PDFKit.PDFDocument, { marks, title }: Sheet, { strongPt, titlePt }: Paper): void {
  for (const mark of marks) doc.font('strong').fontSize(strongPt).text(mark);
  if (titlePt !== null) doc.font('strong').fontSize(titlePt).text(title).moveDown(0.5);
}

function setFeet(doc: PDFKit.PDFDocument, sheet: Sheet, { size, marginPt, footPt }: Paper): void {
  if (sheet.foot === undefined) return;
  const { count } = doc.bufferedPageRange();
  for (let page = 0; page < count; page += 1) {
    doc.switchToPage(page);
    // Below the margin: text there would otherwise begin another page.
    doc.page.margins.bottom = 0;
    doc
      .font('text')
      .fontSize(footPt)
      .text(footOf(sheet, page + 1, count), marginPt, size[1] - marginPt * 0.7, { width: size[0] - 2 * marginPt });
  }
}

/** In words where the sheet is for those who work here; a patient's has no English on it. */
function footOf({ foot, title, marks, language }: Sheet, page: number, count: number): string {
  const where = language === undefined ? [title, `page ${page} of ${count}`] : [`${page}/${count}`];
  return [foot, ...where, ...marks].join(' · ');
}

/** A Data Matrix in the lower right corner: an open symbology that hand scanners read (ISO/IEC 16022). */
async function setCode(doc: PDFKit.PDFDocument, text: string, { size, marginPt }: Paper): Promise<void> {
  const { default: bwip } = await import('bwip-js/node');
  const png = await bwip.toBuffer({ bcid: 'datamatrix', text, scale: 4 });
  const [width, height] = size;
  doc.image(png, width - marginPt - CODE_PT, height - marginPt - CODE_PT, { width: CODE_PT });
}
