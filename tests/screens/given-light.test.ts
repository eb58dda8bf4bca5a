import { expect, test } from 'vitest';
import type { ExposureView } from '../../core/protocol/view.ts';
import { givenJPerCm2 } from '../../renderer/parts/given-light.ts';

const exposure = (more: Partial<ExposureView>): ExposureView => ({
  eye: 'right',
  plannedMs: 83_000,
  irradianceMwPerCm2: 600,
  orderedJPerCm2: 50,
  deliveredBeforeMs: 0,
  beamOnSinceAtMs: 1000,
  beams: [],
  whole: false,
  ...more,
});

test('light that is being given grows with its seconds: 600 mW/cm2 for 47 s are 28.2 J/cm2', () => {
  expect(givenJPerCm2(exposure({}), 48_000)).toBeCloseTo(28.2, 6);
});

test('past the ordered seconds no more is shown as given: the laser ended by itself, as far as is known', () => {
  expect(givenJPerCm2(exposure({}), 500_000)).toBeCloseTo(49.8, 6);
});

test('after an interruption both stretches count, up to what was ordered', () => {
  const second = exposure({ deliveredBeforeMs: 30_000, beamOnSinceAtMs: 100_000 });
  expect(givenJPerCm2(second, 110_000)).toBeCloseTo(24, 6);
  expect(givenJPerCm2(second, 900_000)).toBeCloseTo(49.8, 6);
});

test('light added to an eye that has had its whole is counted as it comes', () => {
  expect(givenJPerCm2(exposure({ deliveredBeforeMs: 83_000, whole: true }), 11_000)).toBeCloseTo(55.8, 6);
});
