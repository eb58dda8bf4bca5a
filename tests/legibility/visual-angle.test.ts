import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { DIGIT_HEIGHT_EM, digitSize, tooSmallWords } from '../../core/legibility/digit-size.ts';
import { LEAST_ARC_MIN } from '../../core/legibility/least-size.ts';
import { arcMinutes, farthestM, heightMmFor } from '../../core/legibility/visual-angle.ts';

const heights = fc.double({ min: 0.1, max: 1000, noNaN: true });
const distances = fc.double({ min: 0.1, max: 50, noNaN: true });

describe('published sizes', () => {
  test('0.007 and 0.003 rad are 24 and 10.3 minutes of arc (Smith, Hum Factors 1979;21:661-670)', () => {
    expect(arcMinutes(7, 1)).toBeCloseTo(24.06, 2);
    expect(arcMinutes(3, 1)).toBeCloseTo(10.31, 2);
  });

  test('a height of a 200th of the distance is 17.2 minutes of arc (b22361-52, for the FAA figure)', () => {
    expect(arcMinutes(15, 3)).toBeCloseTo(17.19, 2);
  });

  test('an acuity letter of 5 minutes of arc at 6 m is 8.73 mm high (eye charts; the figure from memory)', () => {
    expect(heightMmFor(5, 6)).toBeCloseTo(8.73, 2);
  });

  test('5 to 8 mm at 710 mm are 24 to 39 minutes of arc (MIL-STD-1472, changing numerals in the dim; from memory)', () => {
    expect(Math.round(arcMinutes(5, 0.71))).toBe(24);
    expect(Math.round(arcMinutes(8, 0.71))).toBe(39);
  });
});

test('the least sizes are those of their sources, and 24 minutes of arc at 3 m take 20.9 mm', () => {
  expect(LEAST_ARC_MIN).toEqual({ mainNumber: 24, secondNumber: 16 });
  expect(heightMmFor(LEAST_ARC_MIN.mainNumber, 3)).toBeCloseTo(20.94, 2);
});

test('height, distance and angle give one another', () => {
  fc.assert(
    fc.property(heights, distances, (heightMm, distanceM) => {
      const arcMin = arcMinutes(heightMm, distanceM);
      expect(heightMmFor(arcMin, distanceM) / heightMm).toBeCloseTo(1, 9);
      expect(farthestM(heightMm, arcMin) / distanceM).toBeCloseTo(1, 9);
    }),
  );
});

test('farther looks smaller, higher looks larger', () => {
  fc.assert(
    fc.property(heights, distances, (heightMm, distanceM) => {
      expect(arcMinutes(heightMm, distanceM * 1.1)).toBeLessThan(arcMinutes(heightMm, distanceM));
      expect(arcMinutes(heightMm * 1.1, distanceM)).toBeGreaterThan(arcMinutes(heightMm, distanceM));
    }),
  );
});

test.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('a height or distance of %d is refused', (amount) => {
  expect(() => arcMinutes(amount, 3)).toThrow(RangeError);
  expect(() => arcMinutes(20, amount)).toThrow('a distance in m is above 0');
  expect(() => heightMmFor(amount, 3)).toThrow(RangeError);
});

describe('a digit on the glass', () => {
  const picture = { pictureWidthPx: 1920, pictureWidthMm: 520, distanceM: 3 };

  test('is as high as the font draws it, at the scale of the picture', () => {
    const { heightPx, measured } = digitSize(400, picture);
    expect(heightPx).toBe(400 * DIGIT_HEIGHT_EM);
    expect(measured?.heightMm).toBeCloseTo((300 * 520) / 1920, 9);
  });

  test('has no size in mm where nobody measured the picture, and then nothing is claimed', () => {
    const size = digitSize(400, { ...picture, pictureWidthMm: null });
    expect(size).toEqual({ heightPx: 300, measured: null });
    expect(tooSmallWords(size, 3)).toBeNull();
  });

  test('is said to be too small exactly where it is under 24 minutes of arc', () => {
    fc.assert(
      fc.property(fc.double({ min: 20, max: 900, noNaN: true }), distances, (fontPx, distanceM) => {
        const size = digitSize(fontPx, { ...picture, distanceM });
        const words = tooSmallWords(size, distanceM);
        expect(words === null).toBe((size.measured?.arcMin ?? 0) >= 24);
        const [, upToM = '0'] = /no farther than (\d+\.\d) m/.exec(words ?? '') ?? [];
        expect(Number(upToM)).toBeLessThanOrEqual(distanceM);
      }),
    );
  });

  test('the words name the distance from which it can be read', () => {
    // 14 mm are 16 minutes of arc at 3 m, and 24 at 2 m.
    const size = digitSize((14 / 0.75 / 520) * 1920, picture);
    expect(tooSmallWords(size, 3)).toBe('number too small for 3 m: read it from no farther than 2.0 m');
  });
});
