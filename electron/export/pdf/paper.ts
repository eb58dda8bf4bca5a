import { fontFile } from '../../station/pdf.ts';

type Doc = PDFKit.PDFDocument;

const MM = 72 / 25.4;

export const PAGE = {
  widthPt: 210 * MM,
  heightPt: 297 * MM,
  leftPt: 16 * MM,
  topPt: 18 * MM,
  footPt: 24 * MM,
} as const;
export const TEXT_WIDTH_PT = PAGE.widthPt - 2 * PAGE.leftPt;
/** Nothing but the foot stands below this. */
export const LAST_Y_PT = PAGE.heightPt - PAGE.footPt;

/** Where a structure element is put: what reads the sheet aloud follows this tree. */
export type Structure = ReturnType<Doc['struct']>;

/** A document and the tree that says what its parts are. */
export interface Paper {
  readonly doc: Doc;
  readonly root: Structure;
  /** Text as the type can set it. */
  readonly printable: (text: string) => string;
}

export interface PaperWanted {
  readonly title: string;
  readonly madeAt: Date;
}

/**
 * A4, black on white, its type embedded, tagged, no script and nothing fetched. Marked as PDF/A-2b, which the library
 * writes its metadata and colour profile for; no validator of that standard was at hand.
 */
export async function newPaper({ title, madeAt }: PaperWanted): Promise<Paper> {
  // Read when a sheet is first asked for: a station that starts anew is needed at once.
  const { default: PDFDocument } = await import('pdfkit');
  const doc = new PDFDocument({
    size: [PAGE.widthPt, PAGE.heightPt],
    margins: { left: PAGE.leftPt, right: PAGE.leftPt, top: PAGE.topPt, bottom: PAGE.footPt },
    font: fontFile(400),
    bufferPages: true,
    pdfVersion: '1.7',
    subset: 'PDF/A-2b',
    tagged: true,
    lang: 'en',
    displayTitle: true,
    info: { Title: title, Creator: 'Dimroom', Producer: 'Dimroom', CreationDate: madeAt, ModDate: madeAt },
  });
  doc.registerFont('text', fontFile(400)).registerFont('strong', fontFile(700));
  const root = doc.struct('Document');
  doc.addStructure(root);
  return { doc, root, printable: printableBy(glyphTest(doc)) };
}

/** The type has Western European letters. One it lacks is given by its number, so that nothing is lost unseen. */
const printableBy =
  (has: (codePoint: number) => boolean) =>
  (text: string): string =>
    [...text.replace(/\s/gu, ' ')]
      .map((letter) => {
        const codePoint = letter.codePointAt(0) ?? 0;
        return has(codePoint) ? letter : `[U+${codePoint.toString(16).toUpperCase().padStart(4, '0')}]`;
      })
      .join('');

/** Both weights have the same letters. The library keeps its open font under a name its types do not tell. */
function glyphTest(doc: Doc): (codePoint: number) => boolean {
  const { _font } = doc.font('text') as unknown as {
    readonly _font: { readonly font: { hasGlyphForCodePoint(codePoint: number): boolean } };
  };
  return (codePoint) => _font.font.hasGlyphForCodePoint(codePoint);
}
