import { expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { ruleOn } from '../../core/procedure/session.ts';
import { type Regimen, regimenById } from '../../core/regimen/regimens.ts';
import { atOf, commandOf, give, momentAt, readyFor, SECOND_NURSE } from '../session-steps.ts';

const LIGHT = 'light at 15 min, second eye by 20 min, 50 J/cm² at 600 mW/cm² for 83 s';

/** A site's own regimen with the name of another: the two are told apart by what they prescribe. */
test.each<[string, Partial<Regimen>, string]>([
  ['volume', { totalMl: 40 }, `6 mg/m² in 40 mL over 10 min, ${LIGHT}`],
  ['infusion', { infusionMin: 12 }, `6 mg/m² in 30 mL over 12 min, ${LIGHT}`],
  [
    'missing limit',
    { secondEyeLimitMin: null },
    '6 mg/m² in 30 mL over 10 min, light at 15 min, second eye: no limit published, 50 J/cm² at 600 mW/cm² for 83 s',
  ],
])('a namesake with its own %s is not taken for the regimen that was ordered', (_what, own, scheme) => {
  const label = regimenById('label');
  const namesake: Regimen = { ...label, ...own, id: 'own-label', onLabel: false };
  const second = { ...commandOf('second-check'), regimenId: 'own-label' } as Command;
  const at = momentAt(atOf('second-check'));
  const ruling = ruleOn(readyFor('second-check'), second, at, SECOND_NURSE, { regimens: [label, namesake] });
  expect(ruling.taken && ruling.event.found.differences).toContainEqual({
    what: 'regimen',
    first: `${label.name}: 6 mg/m² in 30 mL over 10 min, ${LIGHT}`,
    second: `${label.name}: ${scheme}`,
  });
});

test('figures that are apart are told to four digits', () => {
  const second = { ...commandOf('second-check'), weightKg: 81.5 } as Command;
  const { secondCheck } = give(readyFor('second-check'), second, atOf('second-check'), SECOND_NURSE).context;
  expect(secondCheck?.differences).toContainEqual({ what: 'dose, mg', first: '10.9599', second: '11.7013' });
});
