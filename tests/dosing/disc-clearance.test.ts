import { expect, test } from 'vitest';
import { reckonPlan } from '../../core/dosing/plan.ts';
import { regimenById } from '../../core/regimen/regimens.ts';

/** US prescribing information: the spot ends at least 200 µm from the disc; its border is 500 µm beyond the lesion. */
const cautionAt = (discDistanceUm: number | undefined): string | undefined =>
  reckonPlan({
    heightCm: 170,
    weightKg: 70,
    formula: 'mosteller',
    regimen: regimenById('label'),
    lesions: [{ eye: 'left', gldUm: 3000, discDistanceUm }],
  }).cautions.find((words) => words.includes('disc'));

test.each([
  [undefined, undefined],
  [700, undefined],
  [5000, undefined],
  [699, 'end 199'],
  [500, 'end 0'],
  [499, 'reach 1'],
  [0, 'reach 500'],
])('a lesion that ends %s µm from the disc: %s', (discDistanceUm, ends) => {
  const caution = cautionAt(discDistanceUm);
  if (ends === undefined) return expect(caution).toBeUndefined();
  expect(caution).toContain(`The left eye's spot would ${ends} `);
  expect(caution).toContain('keep 200');
  expect(caution).toContain('The physician decides the spot.');
});
