import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { type ArcFrame, arcAhead, arcLayout } from '../../renderer/parts/arc-layout.ts';
import { type DayCourse, dayMarks, daySpan, dayStretches, type Stretch } from '../../renderer/parts/day-course.ts';
import { type Box, overlap, placeLabels, within } from '../../renderer/parts/label-places.ts';
import {
  beamOn,
  courseOf,
  flushing,
  give,
  held,
  infusing,
  LEFT,
  momentAt,
  RIGHT,
  ring,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

const MINUTE_MS = 60_000;
const minute = (minutes: number): number => T0_AT_MS + minutes * MINUTE_MS;

function courseAt(session: Session, atMs: number): NonNullable<SessionView['course']> {
  const { course } = viewOf(ring(session, atMs).context, 1, momentAt(atMs));
  if (course === null) throw new Error('the infusion has not begun');
  return course;
}

const minutesOf = (session: Session, atMs: number): number => {
  const { fromAtMs, toAtMs } = daySpan(courseAt(session, atMs), atMs);
  return (toAtMs - fromAtMs) / MINUTE_MS;
};

describe('the span of the arc', () => {
  test('is 20 min from T0, with one eye and with two', () => {
    expect(minutesOf(infusing(), minute(3))).toBe(20);
    expect(minutesOf(infusing(TWO_EYES), minute(3))).toBe(20);
    expect(minutesOf(waiting(TWO_EYES), minute(20))).toBe(20);
  });

  test('grows by five minutes at a time once it is overdue', () => {
    expect(minutesOf(waiting(), minute(20.1))).toBe(25);
    expect(minutesOf(waiting(), minute(24.9))).toBe(25);
    expect(minutesOf(waiting(), minute(25.1))).toBe(30);
  });

  test('takes in the end of an infusion that was held long', () => {
    expect(minutesOf(held(), minute(13))).toBe(25);
  });

  test('is whole minutes, wherever between two milliseconds the pump was started', () => {
    fc.assert(
      // Around 2 ** 23 ms a sum has a bit less than its parts: there it is rounded.
      fc.property(fc.double({ min: 3e6, max: 4.1e6, noNaN: true }), (byMs) => {
        const course = shifted(courseAt(infusing(TWO_EYES), minute(3)), byMs);
        const { labels } = arcLayout(course, course.t0AtMs + 180_000, BOARD);
        expect(labels.find(({ id }) => id === 'end')?.words).toBe('20 min');
      }),
    );
  });
});

/** A course that is to begin so much later. */
const shifted = (course: DayCourse, byMs: number): DayCourse => {
  const fromStart = (atMs: number): number => course.t0AtMs + byMs + (atMs - course.t0AtMs);
  return {
    ...course,
    t0AtMs: course.t0AtMs + byMs,
    lightDueAtMs: fromStart(course.lightDueAtMs),
    secondEyeDueAtMs: course.secondEyeDueAtMs === null ? null : fromStart(course.secondEyeDueAtMs),
    infusionDueAtMs: course.infusionDueAtMs === null ? null : fromStart(course.infusionDueAtMs),
  };
};

const isAhead = ({ kind }: Stretch): boolean => kind.endsWith('ahead');
const ahead = (course: DayCourse, atMs: number): Stretch[] => dayStretches(course, atMs).filter(isAhead);
const past = (course: DayCourse, atMs: number): Stretch[] =>
  dayStretches(course, atMs).filter((stretch) => !isAhead(stretch));

describe('what is drawn along it', () => {
  test('a hold stands between two stretches of the infusion', () => {
    const resumed = give(held(), { kind: 'resume' }, minute(3));
    expect(past(courseAt(resumed, minute(5)), minute(5))).toEqual([
      { kind: 'infusing', fromAtMs: T0_AT_MS, toAtMs: minute(2) },
      { kind: 'held', fromAtMs: minute(2), toAtMs: minute(3) },
      { kind: 'infusing', fromAtMs: minute(3), toAtMs: minute(5) },
    ]);
  });

  test('the flush follows the infusion, then waiting', () => {
    expect(past(courseAt(waiting(), minute(13)), minute(13))).toEqual([
      { kind: 'infusing', fromAtMs: T0_AT_MS, toAtMs: minute(10) },
      { kind: 'flushing', fromAtMs: minute(10), toAtMs: minute(11) },
      { kind: 'waiting', fromAtMs: minute(11), toAtMs: minute(13) },
    ]);
  });

  test('light is drawn over the rest while the beam is on', () => {
    const course = courseAt(beamOn(), minute(16));
    expect(dayStretches(course, minute(16)).at(-1)).toEqual({
      kind: 'light',
      fromAtMs: minute(15),
      toAtMs: minute(16),
    });
  });

  test('what is ahead of the infusion and the flush lies between now and where they end', () => {
    expect(ahead(courseAt(infusing(), minute(4)), minute(4))).toEqual([
      { kind: 'infusing ahead', fromAtMs: minute(4), toAtMs: minute(10) },
      { kind: 'flushing ahead', fromAtMs: minute(10), toAtMs: minute(11) },
    ]);
    expect(ahead(courseAt(held(), minute(4)), minute(4))).toEqual([
      { kind: 'infusing ahead', fromAtMs: minute(4), toAtMs: minute(12) },
      { kind: 'flushing ahead', fromAtMs: minute(12), toAtMs: minute(13) },
    ]);
    expect(ahead(courseAt(flushing(), minute(10.5)), minute(10.5))).toEqual([
      { kind: 'flushing ahead', fromAtMs: minute(10.5), toAtMs: minute(11) },
    ]);
    expect(ahead(courseAt(waiting(), minute(11.5)), minute(11.5))).toEqual([]);
    expect(ahead(courseAt(infusing(), minute(10.5)), minute(10.5))).toEqual([
      { kind: 'flushing ahead', fromAtMs: minute(10.5), toAtMs: minute(11.5) },
    ]);
  });

  test('the end of the flush is marked a minute after the pump goes off, and then where it was', () => {
    const flushEnd = (session: Session, atMs: number) =>
      dayMarks(courseAt(session, atMs), atMs).find(({ kind }) => kind === 'flush end');
    expect(flushEnd(infusing(), minute(3))).toMatchObject({ atMs: minute(11), words: 'flush ends', firm: true });
    expect(flushEnd(held(), minute(4))).toMatchObject({ atMs: minute(13), words: 'flush ends', firm: false });
    expect(flushEnd(waiting(), minute(14))).toMatchObject({ atMs: minute(11), words: 'flush ended', firm: true });
  });

  test('a hold moves the end of the infusion with the clock and leaves the light window', () => {
    const marksAt = (atMs: number) => dayMarks(courseAt(held(), atMs), atMs);
    expect(marksAt(minute(4))).toContainEqual({
      kind: 'infusion end',
      atMs: minute(12),
      words: 'infusion end, held',
      firm: false,
    });
    expect(marksAt(minute(5)).find(({ kind }) => kind === 'infusion end')?.atMs).toBe(minute(13));
    expect(marksAt(minute(5)).find(({ kind }) => kind === 'light window')?.atMs).toBe(minute(15));
  });
});

const SITUATIONS: readonly (readonly [string, Session])[] = [
  ['one eye', infusing()],
  ['two eyes', infusing(TWO_EYES)],
  ['a held infusion', held()],
  ['a flush', flushing(TWO_EYES)],
  ['an overdue window', waiting(TWO_EYES)],
  ['light', beamOn(TWO_EYES)],
  ['light 10 min after the start', infusing(courseOf([RIGHT], 'half-dose-10'))],
  ['two eyes and light after 10 min', held(courseOf([RIGHT, LEFT], 'half-dose-10'))],
];

const frames = fc.record({
  width: fc.integer({ min: 200, max: 3800 }),
  height: fc.integer({ min: 80, max: 1200 }),
  letterPx: fc.integer({ min: 10, max: 70 }),
  compact: fc.boolean(),
});

describe.each(SITUATIONS)('words beside the arc, with %s', (_name, session) => {
  const layouts = fc.tuple(frames, fc.integer({ min: 0, max: 3600 })).map(([frame, seconds]) => {
    const atMs = Math.max(T0_AT_MS + seconds * 1000, T0_AT_MS);
    return { frame, layout: arcLayout(courseAt(session, atMs), atMs, frame) };
  });

  test('never lie on each other, on the window, or outside the frame', () => {
    fc.assert(
      fc.property(layouts, ({ frame, layout }) => {
        const boxes: Box[] = layout.labels.map(({ box }) => box);
        if (layout.window !== null) boxes.push(layout.window);
        boxes.forEach((box, index) => {
          expect(boxes.slice(index + 1).filter((other) => overlap(box, other))).toEqual([]);
        });
        for (const { box } of layout.labels) expect(within(box, { x: 0, y: 0, ...frame })).toBe(true);
      }),
    );
  });
});

const BOARD: ArcFrame = { width: 1828, height: 338, letterPx: 44, compact: false };
const wordsOf = (session: Session, atMs: number, frame = BOARD): string[] =>
  arcLayout(courseAt(session, atMs), atMs, frame).labels.map(({ words }) => words);

describe('on a board of 1920 by 1080', () => {
  test('every mark is named', () => {
    expect(wordsOf(infusing(), minute(3))).toEqual(['T0', '20 min', 'light window', 'infusion ends', 'flush ends']);
    expect(wordsOf(held(), minute(6))).toEqual(['T0', '20 min', 'light window', 'infusion end, held']);
    expect(wordsOf(beamOn(TWO_EYES), minute(16))).toEqual([
      'T0',
      '20 min',
      'light window',
      'second eye by',
      'infusion ended',
      'flush ended',
    ]);
  });

  test('in a compact place only the feet are named', () => {
    expect(wordsOf(infusing(TWO_EYES), minute(3), { ...BOARD, compact: true })).toEqual(['T0', '20 min']);
  });

  test('the window stands over the line at the instant it opens, within the frame', () => {
    const { window, now } = arcLayout(courseAt(waiting(), minute(15)), minute(15), BOARD);
    if (window === null || now === null) throw new Error('no window is drawn');
    expect(window.x + window.width / 2).toBeCloseTo(now.x, 6);
    expect(window.y + window.height).toBeLessThan(now.y);
    expect(window.y).toBeGreaterThanOrEqual(0);
  });

  test('before T0 the window stands where the regimen has it, and nowhere without one', () => {
    expect(arcAhead({ lightStartMin: null, infusionMin: null }, BOARD).window).toBeNull();
    const { window, labels } = arcAhead({ lightStartMin: 10, infusionMin: null }, BOARD);
    expect(window && window.x + window.width / 2).toBeCloseTo(BOARD.width / 2, 6);
    expect(labels.map(({ words }) => words)).toEqual(['T0', '20 min', 'light window']);
  });

  test('before T0 infusion and flush are shown once their length is known', () => {
    const { labels, stretches, now } = arcAhead({ lightStartMin: 15, infusionMin: 10 }, BOARD);
    expect(labels.map(({ words }) => words)).toEqual(['T0', '20 min', 'light window', 'infusion ends', 'flush ends']);
    expect(stretches.map(({ kind }) => kind)).toEqual(['infusing ahead', 'flushing ahead']);
    expect(now).toBeNull();
  });
});

test('a label that finds its first place taken takes the next, and is left out when all are', () => {
  const box = (x: number): Box => ({ x, y: 0, width: 10, height: 10 });
  const bounds = { x: 0, y: 0, width: 100, height: 10 };
  const label = (id: string, ...xs: number[]) => ({ id, words: id, places: xs.map(box) });
  const placed = placeLabels([label('one', 0), label('two', 5, 20), label('three', 25), label('four', 95)], [], bounds);
  expect(placed.map(({ id, box: { x } }) => [id, x])).toEqual([
    ['one', 0],
    ['two', 20],
  ]);
});
