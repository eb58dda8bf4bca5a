import type { Block } from '../../../core/report/sheet.ts';
import type { Flow } from './flow.ts';

/** Sets one block of a sheet where the flow stands. */
export function setBlock(flow: Flow, block: Block): void {
  const { textPt, strongPt } = flow.paper;
  switch (block.kind) {
    case 'heading':
      setHeading(flow, block.text);
      return;
    case 'line':
      setText(flow, block.text, block.strong ? 'strong' : 'text', block.strong ? strongPt : textPt);
      return;
    case 'rows':
      for (const row of block.rows) setRow(flow, row);
      return;
    case 'list':
      for (const item of block.items) setItem(flow, item);
      return;
    case 'big':
      setBig(flow, block.text);
      return;
    case 'to fill in':
      setToFillIn(flow, block.text);
      return;
  }
}

/** A heading stands with what it heads. */
function setHeading(flow: Flow, text: string): void {
  const { doc, paper, widthPt } = flow;
  const withItPt = 2 * lineHeight(flow);
  doc.font('strong').fontSize(paper.headingPt).moveDown(0.6);
  flow.makeRoom(doc.heightOfString(text, { width: widthPt }) + withItPt);
  doc.text(text, flow.leftPt, doc.y, { width: widthPt });
}

function setText(flow: Flow, text: string, font: 'text' | 'strong', sizePt: number): void {
  const { doc, widthPt } = flow;
  doc.font(font).fontSize(sizePt);
  flow.makeRoom(doc.heightOfString(text, { width: widthPt }));
  doc.text(text, flow.leftPt, doc.y, { width: widthPt });
}

/** Both halves of a row stand on one page: where either does not fit, the row begins the next. */
function setRow(flow: Flow, [what, value]: readonly [string, string]): void {
  const { doc, paper, widthPt } = flow;
  const { labelWidthPt } = paper;
  const valuePt = widthPt - labelWidthPt;
  doc.font(paper.strongLabels ? 'strong' : 'text').fontSize(paper.textPt);
  const labelPt = doc.heightOfString(what, { width: labelWidthPt });
  doc.font('text');
  const heightPt = Math.max(labelPt, doc.heightOfString(value, { width: valuePt }));
  flow.makeRoom(heightPt);
  const top = doc.y;
  doc.font(paper.strongLabels ? 'strong' : 'text').text(what, flow.leftPt, top, { width: labelWidthPt });
  doc.font('text').text(value, flow.leftPt + labelWidthPt, top, { width: valuePt });
  endAt(flow, top + heightPt);
}

function setItem(flow: Flow, text: string): void {
  const { doc, paper, widthPt } = flow;
  const indentPt = paper.textPt;
  doc.font('text').fontSize(paper.textPt);
  const heightPt = doc.heightOfString(text, { width: widthPt - indentPt });
  flow.makeRoom(heightPt);
  const top = doc.y;
  doc.text('•', flow.leftPt, top, { width: indentPt });
  doc.text(text, flow.leftPt + indentPt, top, { width: widthPt - indentPt });
  endAt(flow, top + heightPt);
}

/** In a frame, so that it is found at a glance. */
function setBig(flow: Flow, text: string): void {
  const { doc, paper, widthPt } = flow;
  const insetPt = paper.bigPt * 0.5;
  doc.font('strong').fontSize(paper.bigPt);
  const heightPt = doc.heightOfString(text, { width: widthPt - 2 * insetPt });
  flow.makeRoom(heightPt + 3 * insetPt);
  const top = doc.y + insetPt * 0.5;
  doc
    .lineWidth(1.5)
    .rect(flow.leftPt, top, widthPt, heightPt + 2 * insetPt)
    .stroke();
  doc.text(text, flow.leftPt + insetPt, top + insetPt, { width: widthPt - 2 * insetPt });
  endAt(flow, top + heightPt + 2.5 * insetPt);
}

/** Words and a line, with room above it for a hand that writes. */
function setToFillIn(flow: Flow, text: string): void {
  const { doc, paper, widthPt } = flow;
  doc.font('text').fontSize(paper.textPt);
  const heightPt = lineHeight(flow);
  flow.makeRoom(1.6 * heightPt);
  const top = doc.y + 0.6 * heightPt;
  const fromPt = flow.leftPt + doc.widthOfString(`${text} `);
  doc.text(text, flow.leftPt, top, { width: widthPt, lineBreak: false });
  const baselinePt = top + 0.85 * heightPt;
  doc
    .lineWidth(0.7)
    .moveTo(fromPt, baselinePt)
    .lineTo(flow.leftPt + widthPt, baselinePt)
    .stroke();
  endAt(flow, top + 1.4 * heightPt);
}

const lineHeight = ({ doc, paper }: Flow): number => doc.font('text').fontSize(paper.textPt).currentLineHeight(true);

function endAt({ doc, leftPt }: Flow, yPt: number): void {
  doc.x = leftPt;
  doc.y = yPt;
}
