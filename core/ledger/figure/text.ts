import { type FigureItem, type FigureLane, isSpan, KIND_WORDS, type SessionFigure } from './shape.ts';

/** One row of the figure's text equivalent. Times are minutes and seconds from the pump's start. */
export interface FigureRow {
  readonly what: string;
  readonly planned: string;
  readonly actual: string;
  /** How far the two are apart, or what became of it. */
  readonly apart: string;
}

/** The figure as a table: everything that it draws. Empty where no pump was started. */
export function figureRows({ lanes }: SessionFigure): FigureRow[] {
  return lanes.flatMap((lane) => (isListed(lane) ? lane.actual.map(itemRow) : [laneRow(lane)]));
}

/** The figure in sentences, one for each row, and what it cannot show. */
export function figureSentences(figure: SessionFigure): string[] {
  const rows = figureRows(figure).map(({ what, planned, actual, apart }) => {
    const parts = [planned && `planned ${planned}`, actual && `actual ${actual}`, apart].filter((part) => part !== '');
    return `${what}: ${parts.length === 0 ? 'not begun' : parts.join('; ')}.`;
  });
  return [...figure.notes, ...rows];
}

/** What stands under a lane of the drawing. */
export function laneWords(lane: FigureLane): string {
  if (isListed(lane)) return countWords(lane.actual);
  const { planned, actual, apart } = laneRow(lane);
  return [`planned ${planned}`, actual && `actual ${actual}`, apart].filter((part) => part !== '').join(' · ');
}

/** Cues and what became of the clocks are told one by one: nothing is planned against them in the lane. */
const isListed = ({ planned }: FigureLane): boolean => planned.length === 0;

function laneRow({ name, planned, actual, apart }: FigureLane): FigureRow {
  return { what: name, planned: planned.map(plannedWords).join(', '), actual: actual.map(itemWords).join(', '), apart };
}

function itemRow({ kind, label, fromS, toS }: FigureItem): FigureRow {
  const sounded = kind === 'sounded' || kind === 'late';
  const told = sounded || kind === 'silent' || kind === 'missing';
  return {
    what: told ? `cue, ${label}` : label,
    planned: told ? timeWords(fromS) : '',
    actual: kind === 'slept' ? `${timeWords(fromS)} to ${timeWords(toS)}` : told && !sounded ? '' : timeWords(toS),
    apart: told ? KIND_WORDS[kind].replace(/^cue /, '') : '',
  };
}

const plannedWords = (item: FigureItem): string =>
  isSpan(item.kind) ? spanTimes(item) : `${item.label} ${timeWords(item.fromS)}`;

function itemWords(item: FigureItem): string {
  if (!isSpan(item.kind)) return `${item.label} ${timeWords(item.fromS)}`;
  return item.kind === 'held' ? `${item.label} ${spanTimes(item)}` : spanTimes(item);
}

const spanTimes = ({ fromS, toS, open }: FigureItem): string =>
  open ? `${timeWords(fromS)} on` : `${timeWords(fromS)} to ${timeWords(toS)}`;

/** How many of each, in the order in which the kinds appear. */
function countWords(items: readonly FigureItem[]): string {
  const counts = new Map<string, number>();
  for (const { kind } of items) counts.set(KIND_WORDS[kind], (counts.get(KIND_WORDS[kind]) ?? 0) + 1);
  return [...counts].map(([words, count]) => `${count} × ${words}`).join(' · ');
}

/** Seconds from the pump's start as minutes and seconds, to the nearest second. */
export function timeWords(fromT0S: number): string {
  const whole = Math.round(Math.abs(fromT0S));
  const sign = fromT0S < 0 && whole > 0 ? '−' : '';
  return `${sign}${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
