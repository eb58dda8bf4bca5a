import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type Bow,
  bowOver,
  bowY,
  fractionAt,
  highestY,
  type Point,
  pointOn,
  stretchPath,
} from '../../renderer/parts/arc-geometry.ts';

const bows = fc
  .record({ width: fc.integer({ min: 50, max: 4000 }), rise: fc.integer({ min: 5, max: 3000 }) })
  .map(({ width, rise }) => bowOver(10, 10 + width, 500, rise));
const fractions = fc.double({ min: 0, max: 1, noNaN: true });

const distance = (one: Point, other: Point): number => Math.hypot(one.x - other.x, one.y - other.y);

test('the arc stands with both feet on the horizon', () => {
  fc.assert(
    fc.property(bows, (bow) => {
      expect(distance(pointOn(bow, 0), { x: bow.leftX, y: bow.horizonY })).toBeLessThan(1e-6);
      expect(distance(pointOn(bow, 1), { x: bow.rightX, y: bow.horizonY })).toBeLessThan(1e-6);
    }),
  );
});

test('its middle is as high as asked for, and never more than a half circle', () => {
  expect(pointOn(bowOver(0, 1000, 400, 150), 0.5).y).toBeCloseTo(250, 9);
  expect(pointOn(bowOver(0, 1000, 400, 9000), 0.5).y).toBeCloseTo(400 - 500, 9);
});

test('equal spans of time are equal lengths of arc', () => {
  fc.assert(
    fc.property(bows, fractions, (bow, start) => {
      const from = start * 0.9;
      const chord = distance(pointOn(bow, from), pointOn(bow, from + 0.1));
      expect(chord).toBeCloseTo(distance(pointOn(bow, 0), pointOn(bow, 0.1)), 6);
    }),
  );
});

test('later is always further to the right', () => {
  fc.assert(
    fc.property(bows, fractions, fractions, (bow, one, other) => {
      fc.pre(one + 1e-6 < other);
      expect(pointOn(bow, one).x).toBeLessThan(pointOn(bow, other).x);
    }),
  );
});

test('the height over a place on the horizon is that of the arc there', () => {
  fc.assert(
    fc.property(bows, fractions, (bow, fraction) => {
      const { x, y } = pointOn(bow, fraction);
      expect(bowY(bow, x)).toBeCloseTo(y, 3);
    }),
  );
});

test('nothing of the arc between two places is higher than what is said to be the highest', () => {
  fc.assert(
    fc.property(bows, fractions, fractions, fractions, (bow, one, other, share) => {
      const [fromX, toX] = between(bow, one, other);
      expect(bowY(bow, fromX + (toX - fromX) * share)).toBeGreaterThanOrEqual(highestY(bow, fromX, toX) - 1e-6);
    }),
  );
});

const between = (bow: Bow, one: number, other: number): [number, number] => {
  const xs = [pointOn(bow, one).x, pointOn(bow, other).x];
  return [Math.min(...xs), Math.max(...xs)];
};

test('a stretch is drawn from its start to its end, along the circle of the bow', () => {
  const bow = bowOver(0, 1000, 400, 500);
  expect(stretchPath(bow, 0, 0.5)).toBe('M 0.00 400.00 A 500.00 500.00 0 0 1 500.00 -100.00');
});

test('an instant lies by its share of the span, and one outside it at the nearer foot', () => {
  const span = { fromAtMs: 600_000, toAtMs: 1_800_000 };
  expect(fractionAt(span, 600_000)).toBe(0);
  expect(fractionAt(span, 1_500_000)).toBe(0.75);
  expect(fractionAt(span, 0)).toBe(0);
  expect(fractionAt(span, 9_000_000)).toBe(1);
});
