import type { Paper } from './papers.ts';

type Doc = PDFKit.PDFDocument;

/** Where the next words go: down a column, then the next one, then the next page. */
export class Flow {
  readonly doc: Doc;
  readonly paper: Paper;
  private column = 0;
  /** Below the title, which stands over all columns. */
  private topPt: number;

  constructor(doc: Doc, paper: Paper) {
    this.doc = doc;
    this.paper = paper;
    this.topPt = doc.y;
  }

  get widthPt(): number {
    const { size, marginPt, columns } = this.paper;
    return (size[0] - 2 * marginPt - (columns - 1) * GUTTER_PT) / columns;
  }

  get leftPt(): number {
    return this.paper.marginPt + this.column * (this.widthPt + GUTTER_PT);
  }

  /** Goes on where so much fits: what stands together is not torn apart. */
  makeRoom(heightPt: number): void {
    const { doc, paper } = this;
    if (doc.y + heightPt <= doc.page.maxY() || doc.y <= this.topPt) return;
    if (this.column + 1 < paper.columns) {
      this.column += 1;
      doc.y = this.topPt;
      return;
    }
    doc.addPage();
    this.column = 0;
    this.topPt = doc.y;
  }
}

const GUTTER_PT = 18;
