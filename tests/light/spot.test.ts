import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LIGHT_LIMITS, lesionUmFromImage, setSpotUm, spotAreaCm2, spotUm } from '../../core/light/spot.ts';

test('the set spot seen through its lens is the wanted spot', () => {
  const diameter = fc.double({ ...LIGHT_LIMITS.spotUm, noNaN: true });
  const factor = fc.double({ ...LIGHT_LIMITS.lensFactor, noNaN: true });
  fc.assert(
    fc.property(diameter, factor, (wantedUm, lensFactor) => {
      expect(setSpotUm(wantedUm, lensFactor) * lensFactor).toBeCloseTo(wantedUm, 6);
    }),
  );
});

test('a lens of factor 1.5 asks for a smaller set spot than the spot on the retina', () => {
  expect(setSpotUm(4500, 1.5)).toBe(3000);
});

test('twice the diameter is four times the area', () => {
  fc.assert(
    fc.property(fc.double({ min: 50, max: 10_000, noNaN: true }), (diameterUm) => {
      expect(spotAreaCm2(diameterUm * 2) / spotAreaCm2(diameterUm)).toBeCloseTo(4, 9);
    }),
  );
});

describe('a slip of the unit is refused', () => {
  test.each<[string, () => number, string]>([
    ['lesion in mm', () => spotUm(3), 'Greatest linear dimension must be 100 to 12000 um, not 3 um'],
    ['lesion with a zero too many', () => spotUm(30_000), 'Greatest linear dimension must be 100 to 12000 um'],
    ['image in um', () => lesionUmFromImage(7500, 2.5), 'Size on the image must be 0.1 to 60 mm, not 7500 mm'],
    [
      'magnification in per cent',
      () => lesionUmFromImage(7.5, 250),
      'Camera magnification must be 1 to 5 times, not 250',
    ],
    ['no magnification', () => lesionUmFromImage(7.5, 0), 'Camera magnification must be 1 to 5 times, not 0'],
    ['lens factor in per cent', () => setSpotUm(4000, 150), 'Lens factor must be 0.5 to 3, not 150:'],
    ['no lens factor', () => setSpotUm(4000, Number.NaN), 'Lens factor must be 0.5 to 3, not NaN:'],
    ['set spot in mm', () => setSpotUm(4, 1.5), 'Spot must be 50 to 20000 um, not 4 um'],
    ['area of a spot in mm', () => spotAreaCm2(4), 'Spot must be 50 to 20000 um, not 4 um'],
  ])('%s', (_slip, reckon, sentence) => {
    expect(reckon).toThrow(RangeError);
    expect(reckon).toThrow(sentence);
  });
});
