import { PAGE, type Paper } from './paper.ts';
import { needRoom } from './text.ts';

/**
 * Draws the session's own figure as vectors: of SVG, the shapes that figure is made of, rect, path, circle and text, with
 * plain colours. Below what stands already; on a page of its own where it does not fit.
 */
export function drawSvg({ doc, root, printable }: Paper, svg: string, widthPt: number, alt: string): void {
  const size = /<svg [^>]*width="([\d.]+)" height="([\d.]+)"/.exec(svg);
  const scale = widthPt / Number(size?.[1]);
  const heightPt = Number(size?.[2]) * scale;
  needRoom(doc, heightPt);
  const top = doc.y;
  root.add(
    doc.struct('Figure', { alt }, () => {
      doc.save().translate(PAGE.leftPt, top).scale(scale).lineWidth(1);
      for (const { name, attributes, words } of shapesOf(svg)) SHAPES[name]?.(doc, attributes, printable(words));
      doc.restore();
    }),
  );
  doc.x = PAGE.leftPt;
  doc.y = top + heightPt + 4;
}

type Attributes = Readonly<Record<string, string>>;
type Draw = (doc: PDFKit.PDFDocument, attributes: Attributes, words: string) => void;

const SHAPES: Readonly<Record<string, Draw>> = {
  rect: (doc, { x = '0', y = '0', width, height, ...paint }) =>
    painted(doc, paint, () => doc.rect(Number(x), Number(y), Number(width), Number(height))),
  path: (doc, { d = '', ...paint }) => painted(doc, paint, () => doc.path(d)),
  circle: (doc, { cx, cy, r, ...paint }) => painted(doc, paint, () => doc.circle(Number(cx), Number(cy), Number(r))),
  text: (doc, { x, y, 'font-size': sizePx, 'text-anchor': anchor, fill = '#000000' }, words) => {
    doc.font('text').fontSize(Number(sizePx)).fillColor(fill);
    const width = doc.widthOfString(words);
    const left = Number(x) - (anchor === 'middle' ? width / 2 : anchor === 'end' ? width : 0);
    doc.text(words, left, Number(y), { lineBreak: false, baseline: 'alphabetic' }).fillColor('#000000');
  },
};

function painted(doc: PDFKit.PDFDocument, paint: Attributes, outline: () => PDFKit.PDFDocument): void {
  const { fill = 'none', stroke = 'none', 'stroke-width': width = '1', 'stroke-dasharray': dashes } = paint;
  doc.save().lineWidth(Number(width));
  if (dashes !== undefined) doc.dash(Number(dashes.split(' ')[0]), { space: Number(dashes.split(' ')[1]) });
  outline();
  if (fill !== 'none' && stroke !== 'none') doc.fillAndStroke(fill, stroke);
  else if (fill !== 'none') doc.fill(fill);
  else doc.stroke(stroke);
  doc.restore();
}

/** What the figure says of itself for screen readers stands in the table below it. */
function* shapesOf(svg: string): Generator<{ name: string; attributes: Attributes; words: string }> {
  const seen = svg.replace(/<(title|desc)>.*?<\/\1>/gs, '');
  for (const [, name = '', inside = '', words = ''] of seen.matchAll(
    /<(rect|path|circle|text)\b([^>]*?)(?:\/>|>([^<]*)<\/text>)/g,
  )) {
    const pairs = [...inside.matchAll(/([\w-]+)="([^"]*)"/g)].map(([, key = '', value = '']) => [key, value]);
    yield { name, attributes: Object.fromEntries(pairs), words: plain(words) };
  }
}

const plain = (text: string): string =>
  text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&quot;', '"').replaceAll('&amp;', '&');
