import { recordTime } from '../../time/show.ts';
import { drawArc } from './arc.ts';
import { drawMark, drawOpenEnd, drawSample, drawSpan, type FigureColours, n, path } from './drawn-shapes.ts';
import {
  type Axis,
  BAR_HEIGHT,
  BARS_HEIGHT,
  GUTTER,
  HEAD_HEIGHT,
  LINE_HEIGHT,
  linesOf,
  MARGIN,
  TEXT_SIZE,
  ticksOf,
  widthOf,
  xOf,
} from './layout.ts';
import { type FigureItem, type FigureLane, type ItemKind, isSpan, KIND_WORDS, type SessionFigure } from './shape.ts';
import { figureSentences, laneWords, timeWords } from './text.ts';
import { escaped } from './xml.ts';

const HAIR = 0.5;

/** How a figure is drawn. */
export interface FigureLook extends FigureColours {
  readonly width: number;
  readonly face: string;
}

/** Black on white. What the light is, shapes and words tell as well. */
export const FIGURE_ON_PAPER: FigureLook = {
  width: 720,
  ink: '#000000',
  quiet: '#000000',
  lamp: '#000000',
  ground: '#ffffff',
  face: 'B612, sans-serif',
};

/** The figure as one SVG element, complete in itself: no style sheet, no script, nothing fetched. */
export function figureSvg(figure: SessionFigure, look: FigureLook): string {
  const axis: Axis = {
    fromS: figure.fromS,
    toS: figure.toS,
    leftX: MARGIN + GUTTER,
    rightX: look.width - MARGIN - 16,
  };
  const pen = new Pen(look, axis);
  pen.head(figure);
  pen.times();
  for (const lane of figure.lanes) pen.lane(lane);
  pen.key(figure.lanes);
  pen.notes(figure.notes);
  return pen.whole(figure);
}

/** Draws from the top down, and keeps where it has come to. */
class Pen {
  private readonly parts: string[] = [];
  private readonly look: FigureLook;
  private readonly axis: Axis;
  private y = MARGIN;

  constructor(look: FigureLook, axis: Axis) {
    this.look = look;
    this.axis = axis;
  }

  head({ t0, practice, windowS, lightS, fromS, toS }: SessionFigure): void {
    const { ink, quiet, lamp } = this.look;
    const began = t0 === null ? '' : `T0, pump on: ${recordTime(t0.wallMs, t0.offsetMin)}`;
    this.text(this.axis.leftX, this.y + 14, `${practice ? 'PRACTICE. ' : ''}planned and as it went`, ink, 13);
    this.text(this.axis.leftX, this.y + 32, began, quiet);
    const share = (atS: number | null): number | null => (atS === null ? null : (atS - fromS) / (toS - fromS));
    const bow = { leftX: MARGIN + 4, width: GUTTER - 28, footY: this.y + 40 };
    this.parts.push(drawArc(bow, share(windowS), share(lightS), { ink, lamp }));
    this.y += HEAD_HEIGHT;
  }

  times(): void {
    const { quiet } = this.look;
    for (const atS of ticksOf(this.axis)) {
      this.text(xOf(this.axis, atS), this.y + TEXT_SIZE, timeWords(atS), quiet, TEXT_SIZE, 'middle');
    }
    this.y += LINE_HEIGHT + 6;
  }

  lane(lane: FigureLane): void {
    const { ink, quiet } = this.look;
    const { leftX, rightX } = this.axis;
    const plannedY = this.y;
    const actualY = this.y + BAR_HEIGHT + 5;
    const baseY = this.y + BARS_HEIGHT + 2;
    this.parts.push(path(`M ${n(leftX)} ${n(baseY)} H ${n(rightX)}`, 'none', quiet, HAIR));
    for (const atS of ticksOf(this.axis)) {
      this.parts.push(path(`M ${n(xOf(this.axis, atS))} ${n(baseY)} v -3`, 'none', quiet, HAIR));
    }
    linesOf(lane.name, GUTTER - 8).forEach((line, index) => {
      this.text(MARGIN, this.y + TEXT_SIZE + index * LINE_HEIGHT, line, ink);
    });
    for (const item of lane.planned) this.item(item, plannedY);
    for (const item of lane.actual) this.item(item, actualY);
    const lines = linesOf(laneWords(lane), rightX - leftX);
    lines.forEach((line, index) => {
      this.text(leftX, baseY + TEXT_SIZE + 3 + index * LINE_HEIGHT, line, quiet);
    });
    this.y = baseY + lines.length * LINE_HEIGHT + 12;
  }

  /** What the shapes mean: those that are drawn. */
  key(lanes: readonly FigureLane[]): void {
    const kinds = new Set<ItemKind>(
      lanes.flatMap(({ planned, actual }) => [...planned, ...actual].map(({ kind }) => kind)),
    );
    let x = MARGIN;
    for (const kind of kinds) {
      const width = 26 + widthOf(KIND_WORDS[kind]);
      if (x > MARGIN && x + width > this.look.width - MARGIN) {
        x = MARGIN;
        this.y += LINE_HEIGHT + 4;
      }
      this.parts.push(drawSample(kind, x + 9, this.y, this.look));
      this.text(x + 22, this.y + BAR_HEIGHT, KIND_WORDS[kind], this.look.quiet);
      x += width + 10;
    }
    if (kinds.size > 0) this.y += LINE_HEIGHT + 10;
  }

  notes(notes: readonly string[]): void {
    for (const line of notes.flatMap((note) => linesOf(note, this.look.width - 2 * MARGIN))) {
      this.text(MARGIN, this.y + TEXT_SIZE, line, this.look.ink);
      this.y += LINE_HEIGHT;
    }
  }

  whole(figure: SessionFigure): string {
    const { width, ground, face } = this.look;
    const height = Math.ceil(this.y + MARGIN);
    const back = ground === null ? '' : `<rect width="${width}" height="${height}" fill="${escaped(ground)}"/>`;
    return [
      `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${width}" height="${height}"`,
      ` viewBox="0 0 ${width} ${height}" font-family="${escaped(face)}">`,
      `<title>${figure.practice ? 'Practice session: ' : ''}planned and as it went</title>`,
      `<desc>${escaped(figureSentences(figure).join(' '))}</desc>`,
      back,
      ...this.parts,
      '</svg>',
    ].join('');
  }

  private item({ kind, fromS, toS, open }: FigureItem, y: number): void {
    const [fromX, toX] = [xOf(this.axis, fromS), xOf(this.axis, toS)];
    if (isSpan(kind)) this.parts.push(drawSpan(kind, fromX, y, toX - fromX, this.look));
    else this.parts.push(drawMark(kind, toX, y, this.look));
    if (open) this.parts.push(drawOpenEnd(toX, y, this.look));
  }

  private text(x: number, y: number, words: string, colour: string, size = TEXT_SIZE, anchor = 'start'): void {
    if (words === '') return;
    const where = `x="${n(x)}" y="${n(y)}" font-size="${size}" text-anchor="${anchor}"`;
    this.parts.push(`<text ${where} fill="${escaped(colour)}">${escaped(words)}</text>`);
  }
}
