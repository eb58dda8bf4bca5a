import * as Plot from '@observablehq/plot';
import type { ClinicFigures } from '../../../core/ledger/clinic.ts';
import { ruleById } from '../../../core/ledger/deviations.ts';

type Svg = SVGSVGElement | HTMLElement;

const WIDTH = 760;
const LEFT = 60;
/** Room for the ticks and, below them, what they count. */
const BELOW = 46;

/** Seconds, as the charts count. */
export const secondsOf = (ms: number): number => Math.round(ms / 100) / 10;

/**
 * Every light start in its order of time against the instant it was due, with the median and the site's limits. Inside
 * the limits is a ring, outside them a filled triangle: the two are told apart without colour.
 */
export function lightStartChart({ points, medianMs, limitMs }: ClinicFigures['lightStarts']): Svg {
  const data = points.map(({ openedWallMs, offsetMs }) => ({ at: new Date(openedWallMs), s: secondsOf(offsetMs) }));
  const limitS = secondsOf(limitMs);
  const inside = data.filter(({ s }) => Math.abs(s) <= limitS);
  const outside = data.filter(({ s }) => Math.abs(s) > limitS);
  const marks: Plot.Markish[] = [
    Plot.ruleY([0], { strokeOpacity: 0.5 }),
    Plot.ruleY([limitS, -limitS], { strokeDasharray: '6 4' }),
    Plot.text([`limit +${limitS} s`], { x: null, y: limitS, frameAnchor: 'right', dy: -8 }),
    Plot.text([`limit −${limitS} s`], { x: null, y: -limitS, frameAnchor: 'right', dy: 8 }),
    Plot.dot(inside, { x: 'at', y: 's', r: 3, stroke: 'currentColor' }),
    Plot.dot(outside, { x: 'at', y: 's', r: 5, symbol: 'triangle', fill: 'currentColor' }),
  ];
  if (medianMs !== null) {
    const medianS = secondsOf(medianMs);
    marks.push(Plot.ruleY([medianS], { strokeWidth: 2 }));
    marks.push(Plot.text([`median ${medianS} s`], { x: null, y: medianS, frameAnchor: 'left', dx: 6, dy: -8 }));
  }
  return Plot.plot({
    width: WIDTH,
    height: 280,
    marginLeft: LEFT,
    marginRight: 30,
    marginBottom: BELOW,
    x: { type: 'time', label: 'session opened', labelOffset: BELOW - 4, tickFormat: '%Y-%m-%d', ticks: 6, inset: 10 },
    y: { label: 'light start, seconds after due', nice: true },
    marks,
  });
}

/** Words beside a line do not touch it. */
const ASIDE = { end: -3, middle: 0, start: 3 } as const;

/** How often a span came out how long, with its median and the fifth and ninety-fifth percentile. */
export function spanChart(spans: NonNullable<ClinicFigures['infusions']>, label: string): Svg {
  const bins = spans.bins.map(({ fromMs, toMs, count }) => ({ from: secondsOf(fromMs), to: secondsOf(toMs), count }));
  const { p5Ms, medianMs, p95Ms } = spans;
  const told = [
    { at: secondsOf(p5Ms), words: '5 %', dash: '3 3', textAnchor: 'end', dy: -8 },
    { at: secondsOf(medianMs), words: 'median', dash: 'none', textAnchor: 'middle', dy: -22 },
    { at: secondsOf(p95Ms), words: '95 %', dash: '3 3', textAnchor: 'start', dy: -8 },
  ] as const;
  const [first, last] = [bins[0], bins.at(-1)];
  const besideS = first === undefined ? 1 : 2 * (first.to - first.from);
  return Plot.plot({
    width: WIDTH,
    height: 220,
    marginLeft: LEFT,
    marginTop: 40,
    marginBottom: BELOW,
    x: { label, labelOffset: BELOW - 4, domain: [(first?.from ?? 0) - besideS, (last?.to ?? 0) + besideS] },
    y: { label: 'sessions', tickFormat: 'd' },
    marks: [
      Plot.rectY(bins, { x1: 'from', x2: 'to', y: 'count', fill: 'currentColor', fillOpacity: 0.35, insetRight: 1 }),
      ...told.map(({ at, dash }) => Plot.ruleX([at], { strokeDasharray: dash })),
      ...told.map(({ at, words, textAnchor, dy }) =>
        Plot.text([words], { x: [at], frameAnchor: 'top', textAnchor, dx: ASIDE[textAnchor], dy }),
      ),
      Plot.ruleY([0]),
    ],
  });
}

/** Deviations by kind and month: the number stands in its cell, so that no shade has to be read. */
export function deviationChart({ months, kinds }: ClinicFigures['deviations']): Svg {
  const cells = kinds.flatMap(({ id, counts }) =>
    counts.map((count, index) => ({ kind: ruleById(id).title, month: months[index] ?? '', count })),
  );
  const most = Math.max(1, ...cells.map(({ count }) => count));
  return Plot.plot({
    width: Math.max(WIDTH, 220 + months.length * 56),
    height: 60 + kinds.length * 26,
    marginLeft: 220,
    x: { label: null, domain: [...months] },
    y: { label: null },
    marks: [
      Plot.cell(cells, {
        x: 'month',
        y: 'kind',
        fill: 'currentColor',
        fillOpacity: ({ count }: { count: number }) => (0.3 * count) / most,
        inset: 1,
      }),
      Plot.text(cells, {
        x: 'month',
        y: 'kind',
        text: ({ count }: { count: number }) => (count === 0 ? '·' : String(count)),
      }),
    ],
  });
}
