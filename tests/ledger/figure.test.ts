import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  FIGURE_ON_PAPER,
  type FigureItem,
  figureOf,
  figureRows,
  figureSentences,
  figureSvg,
  type SessionFigure,
} from '../../core/ledger/figure.ts';
import { measuresOf, type SessionMeasures } from '../../core/ledger/measures.ts';
import { type Happening, live } from '../deviations/lived-session.ts';
import { type Departures, seeded } from '../deviations/seeded-session.ts';
import { ONE_EYE, OPENED_AT_MS, TWO_EYES } from '../session-steps.ts';

/** Minutes and seconds from the pump's start, to the nearest second. */
function clock(fromT0Ms: number): string {
  const seconds = Math.round(fromT0Ms / 1000);
  return `${Math.trunc(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}

const times = (text: string): string[] => text.match(/\d+:\d\d/g) ?? [];
const rowOf = (measures: SessionMeasures, what: string) => {
  const rows = figureRows(figureOf(measures)).filter((row) => row.what === what);
  const [row] = rows;
  if (row === undefined || rows.length > 1) throw new Error(`${rows.length} rows "${what}"`);
  return row;
};

const span = (min: number, max: number) => fc.option(fc.integer({ min, max }), { nil: undefined });
const departures: fc.Arbitrary<Departures> = fc.record(
  {
    lightMs: span(0, 100_000),
    secondEyeMs: span(-90_000, 90_000),
    infusionMs: span(-60_000, 60_000),
    heldMs: span(1000, 60_000),
    flushMs: span(-50_000, 60_000),
    exposureMs: span(-40_000, 10_000),
    pressedLateS: span(1, 60),
    sleptMs: span(1000, 60_000),
  },
  { requiredKeys: [] },
) as fc.Arbitrary<Departures>;

test('the text equivalent tells what the measures are', () => {
  fc.assert(
    fc.property(departures, (some) => {
      const { measures } = seeded(some);
      const { infusion, flush, light, secondEye, exposures, holds } = measures;
      if (infusion === null || flush === null || light === null) throw new Error('no course');
      const pump = rowOf(measures, 'infusion');
      expect(times(pump.planned)).toEqual(['0:00', clock(infusion.plannedMs)]);
      const turns = holds.flatMap(({ fromT0Ms, heldMs }) => [
        fromT0Ms,
        fromT0Ms,
        fromT0Ms + (heldMs ?? 0),
        fromT0Ms + (heldMs ?? 0),
      ]);
      expect(times(pump.actual)).toEqual([0, ...turns, infusion.endFromT0Ms ?? 0].map(clock));

      const flushed = rowOf(measures, 'flush');
      const beganMs = flush.beganFromT0Ms ?? 0;
      expect(times(flushed.actual)).toEqual([clock(beganMs), clock(beganMs + (flush.ranMs ?? 0))]);

      const window = rowOf(measures, 'light window');
      const limits = secondEye === null ? [] : [secondEye.limitFromT0Ms];
      expect(times(window.planned)).toEqual([light.dueFromT0Ms, ...limits].map(clock));
      const second = secondEye === null ? [] : [secondEye.limitFromT0Ms + (secondEye.startOffsetMs ?? 0)];
      expect(times(window.actual)).toEqual([light.startFromT0Ms ?? 0, ...second].map(clock));

      for (const { eye, beams, deliveredS, orderedS, deliveredJPerCm2 } of exposures) {
        const row = rowOf(measures, `light, ${eye} eye`);
        expect(times(row.actual)).toEqual(
          beams.flatMap(({ onFromT0Ms, offFromT0Ms }) => [onFromT0Ms, offFromT0Ms ?? 0]).map(clock),
        );
        const dose = `${Number(deliveredS.toFixed(1))} of ${orderedS} s, ${deliveredJPerCm2.toFixed(1)} of 50.0 J/cm²`;
        expect(row.apart).toBe(dose);
      }
    }),
    { numRuns: 40 },
  );
});

test('the stretches that are drawn come to what the pump ran and what the eye was given', () => {
  fc.assert(
    fc.property(departures, (some) => {
      const { measures } = seeded(some);
      const figure = figureOf(measures);
      const sumOf = (id: string, kind: string): number =>
        figure.lanes
          .filter((lane) => lane.id === id)
          .flatMap(({ actual }) => actual)
          .filter((item) => item.kind === kind)
          .reduce((sum, { fromS, toS }) => sum + toS - fromS, 0);
      expect(sumOf('infusion', 'ran')).toBeCloseTo((measures.infusion?.ranMs ?? 0) / 1000, 6);
      for (const { eye, deliveredS } of measures.exposures) {
        expect(sumOf(`exposure-${eye}`, 'light')).toBeCloseTo(deliveredS, 6);
      }
    }),
    { numRuns: 20 },
  );
});

test('everything that is drawn lies on its axis, which is at least 20 min long, and is told in words', () => {
  fc.assert(
    fc.property(departures, (some) => {
      const figure = figureOf(seeded(some).measures);
      expect(figure.fromS).toBeLessThanOrEqual(0);
      expect(figure.toS).toBeGreaterThanOrEqual(1200);
      const told = figureSentences(figure).join(' ');
      for (const { fromS, toS, open } of itemsOf(figure)) {
        expect(fromS).toBeGreaterThanOrEqual(figure.fromS);
        expect(toS).toBeLessThanOrEqual(figure.toS);
        expect(open).toBe(false);
        expect(times(told)).toContain(clock(toS * 1000));
      }
    }),
    { numRuns: 20 },
  );
});

const itemsOf = ({ lanes }: SessionFigure): FigureItem[] =>
  lanes.flatMap(({ planned, actual }) => [...planned, ...actual]);

test('the light of the second eye is planned to follow that of the first at once', () => {
  const { measures } = seeded({ secondEyeMs: -60_000 });
  expect(rowOf(measures, 'light, right eye').planned).toBe('15:00 to 16:23');
  expect(rowOf(measures, 'light, left eye').planned).toBe('16:23 to 17:46');
});

describe('cues and clocks', () => {
  const { measures } = seeded({
    sleptMs: 20_000,
    clockStepMs: 7000,
    cues: (cue) => {
      if (cue === 'infusion-end') return { outcome: 'late', lateMs: 9000 };
      if (cue === 'flush-end') return { outcome: 'silent', lateMs: 0 };
      return cue === 'exposure-end' ? null : { outcome: 'sounded', lateMs: 0 };
    },
  });

  test('each is told one by one, with what became of it', () => {
    expect(figureRows(figureOf(measures)).slice(-6)).toEqual([
      { what: 'cue, infusion at its end: pump off', planned: '10:00', actual: '10:09', apart: 'late' },
      { what: 'cue, flush has run its time', planned: '11:00', actual: '', apart: 'silent' },
      { what: 'cue, light window is open', planned: '15:00', actual: '15:00', apart: 'sounded' },
      { what: 'cue, light at its end', planned: '16:23', actual: '', apart: 'no word of a cue' },
      { what: 'clock stepped', planned: '', actual: '0:31', apart: '' },
      { what: 'computer slept', planned: '', actual: '3:00 to 3:20', apart: '' },
    ]);
  });
});

describe('sessions that did not go to their end', () => {
  const whole = TWO_EYES.map(({ atMs, by, command }): Happening => ({ atMs, by, command }));
  const STOP = { kind: 'stop-early', reason: 'the patient <faints> & is well "again"' } as const;

  test('without a pump started there is nothing to draw, and the figure says so', () => {
    const figure = figureOf(live(whole.slice(0, 5)).measures);
    expect(figure).toMatchObject({ t0: null, lanes: [], notes: ['No pump was started: there is nothing to draw.'] });
    expect(figureRows(figure)).toEqual([]);
  });

  test('stopped before the flush: the flush is marked as not begun, and no light was given', () => {
    const until = whole.slice(
      0,
      whole.findIndex((one) => 'command' in one && one.command.kind === 'begin-flush'),
    );
    const { measures } = live([...until, { atMs: OPENED_AT_MS + 900_000, command: STOP }]);
    expect(rowOf(measures, 'flush')).toMatchObject({ actual: 'flush not begun 5:00', apart: '' });
    expect(rowOf(measures, 'light window')).toMatchObject({ actual: '', apart: 'no light was given' });
    expect(figureOf(measures).notes).toEqual([`Stopped early: ${STOP.reason}.`]);
  });

  test('what is still going on has no end', () => {
    const until = (kind: string) =>
      whole.slice(0, whole.findIndex((one) => 'command' in one && one.command.kind === kind) + 1);
    const under = (happenings: readonly Happening[], what: string) => rowOf(live(happenings).measures, what).actual;
    expect(under(until('start-pump'), 'infusion')).toBe('0:00 on');
    const held: Happening = { atMs: OPENED_AT_MS + 700_000, command: { kind: 'hold', reason: 'pump' } };
    expect(under([...until('start-pump'), held], 'infusion')).toBe('0:00 to 1:40, held (pump) 1:40 on');
    expect(under(until('begin-flush'), 'flush')).toBe('10:00 on');
    expect(under(until('beam-on'), 'light, right eye')).toBe('15:00 on');
  });

  test('read in part, it says to which entry', () => {
    const { entries } = seeded();
    const damaged = entries.map((entry) => (entry.kind === 'beam-on' ? { ...entry, payload: {} } : entry));
    const [note] = figureOf(measuresOf(damaged)).notes;
    const seq = entries.find(({ kind }) => kind === 'beam-on')?.seq ?? 0;
    expect(note).toContain(`Read up to entry ${seq - 1} only. Entry ${seq} cannot be read:`);
  });
});

describe('the drawing', () => {
  test('has no colour but those it is given', () => {
    const svg = figureSvg(figureOf(seeded({ secondEyeMs: -60_000, heldMs: 30_000, sleptMs: 9000 }).measures), {
      ...FIGURE_ON_PAPER,
      ink: 'var(--ink)',
      quiet: 'var(--quiet)',
      lamp: 'var(--lamp)',
      ground: null,
    });
    const colours = [...svg.matchAll(/(?:fill|stroke)="([^"]*)"/g)].map(([, colour]) => colour);
    expect(new Set(colours)).toEqual(new Set(['var(--ink)', 'var(--quiet)', 'var(--lamp)', 'none']));
  });

  test('a practice session says so', () => {
    const { entries } = seeded();
    const practice = entries.map((entry) =>
      entry.kind === 'open-session' ? { ...entry, payload: { ...entry.payload, practice: true } } : entry,
    );
    expect(figureSvg(figureOf(measuresOf(practice)), FIGURE_ON_PAPER)).toMatch(/PRACTICE/);
    expect(figureSvg(figureOf(measuresOf(entries)), FIGURE_ON_PAPER)).not.toMatch(/practice/i);
  });

  test('is the same for the same session, whenever it is drawn', () => {
    const lived = live(ONE_EYE.map(({ atMs, by, command }): Happening => ({ atMs, by, command })));
    const draw = () => figureSvg(figureOf(measuresOf(lived.entries)), FIGURE_ON_PAPER);
    expect(draw()).toBe(draw());
  });
});
