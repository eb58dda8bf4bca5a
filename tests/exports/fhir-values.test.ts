import { describe, expect, test } from 'vitest';
import type { Resource } from '../../core/report/fhir/resource.ts';
import { atOf, ONE_EYE, OPERATOR, stepsBefore, T0_AT_MS, TWO_EYES } from '../session-steps.ts';
import { bundleOf, observationOf, oneOf, type Part, statusOf, step, stop } from './fhir-reading.ts';
import { extractOfSteps } from './ledger-of.ts';

const components = (bundle: Resource, text: string): Record<string, unknown> => {
  const { component } = observationOf<{ component: { code: { text: string }; valueQuantity: Part }[] }>(bundle, text);
  return Object.fromEntries(
    component.map(({ code, valueQuantity }) => [code.text, [valueQuantity.value, valueQuantity.code]]),
  );
};

interface Period {
  readonly start: string;
  readonly end: string;
}
const spanOf = ({ start, end }: Period): number[] => [start, end].map(Date.parse);

describe('the values', () => {
  const extract = extractOfSteps(TWO_EYES);
  const bundle = bundleOf(extract);
  const payloadOf = (kind: string): Part => extract.entries.find((entry) => entry.kind === kind)?.payload ?? {};
  const wallOf = (kind: string, n = 0): number =>
    extract.entries.filter((entry) => entry.kind === kind)[n]?.wallMs ?? 0;
  test('of height, weight and area are those of the ledger, under their LOINC codes', () => {
    const { heightCm, weightKg, found } = payloadOf('measure') as {
      heightCm: number;
      weightKg: number;
      found: { plan: { bodySurfaceAreaM2: number } };
    };
    const said = ['body height', 'body weight', 'body surface area, computed'].map((text) => {
      const { valueQuantity, code } = observationOf<{ valueQuantity: Part; code: { coding: Part[] } }>(bundle, text);
      return [valueQuantity.value, valueQuantity.code, ...code.coding.map((coding) => coding.code)];
    });
    // LOINC: 8302-2 body height, 29463-7 body weight, 8277-6 body surface area, 3140-1 derived from formula.
    expect(said).toStrictEqual([
      [heightCm, 'cm', '8302-2'],
      [weightKg, 'kg', '29463-7'],
      [found.plan.bodySurfaceAreaM2, 'm2', '8277-6', '3140-1'],
    ]);
    expect(observationOf(bundle, 'body surface area, computed').method).toStrictEqual({
      text: expect.stringMatching(/^Mosteller: .*N Engl J Med 1987;317:1098/),
    });
  });

  test('of the drug are what was made up less what stayed in the line, the rate, and the pump’s times', () => {
    const { doseAfterRoundingMg, rateMlPerMin } = (
      payloadOf('measure').found as { plan: { infusate: Record<string, number> } }
    ).plan.infusate;
    const { notDeliveredMg = 0 } = payloadOf('end-flush').found as { notDeliveredMg?: number };
    const { dosage, effectivePeriod } = oneOf<{ dosage: { dose: Part; rateQuantity: Part }; effectivePeriod: Period }>(
      bundle,
      'MedicationAdministration',
    );
    expect([dosage.dose.code, dosage.rateQuantity]).toMatchObject(['mg', { value: rateMlPerMin, code: 'mL/min' }]);
    expect(dosage.dose.value).toBeCloseTo((doseAfterRoundingMg ?? 0) - notDeliveredMg, 9);
    expect(spanOf(effectivePeriod)).toStrictEqual([wallOf('start-pump'), wallOf('begin-flush')]);
    expect(oneOf(bundle, 'Medication').batch).toStrictEqual({ lotNumber: 'A1027', expirationDate: '2099-12-31' });
  });

  test('of the procedure are T0 and the end of the light, and each eye in words', () => {
    const { performedPeriod, bodySite, identifier } = oneOf<{
      performedPeriod: Period;
      bodySite: Part[];
      identifier: Part[];
    }>(bundle, 'Procedure');
    expect(spanOf(performedPeriod)).toStrictEqual([wallOf('start-pump'), wallOf('end-light')]);
    expect(bodySite).toStrictEqual([{ text: 'right eye, retina' }, { text: 'left eye, retina' }]);
    expect(identifier[0]?.value).toBe('session-one');
  });

  test('of laser and light are those read back, ordered and counted', () => {
    expect(components(bundle, 'laser settings read back, left eye')).toStrictEqual({
      'spot set in the laser': [1900, 'um'],
      'factor of the contact lens, from its own label': [1.5, '1'],
      'factor of the lens entered into the laser': [1.5, '1'],
      irradiance: [600, 'mW/cm2'],
      exposure: [83, 's'],
    });
    expect(components(bundle, 'light given, right eye')).toStrictEqual({
      'light given': [83, 's'],
      'fluence given': [expect.closeTo(49.8, 9), 'J/cm2'],
      'light ordered': [83, 's'],
      'fluence ordered': [50, 'J/cm2'],
      'irradiance ordered': [600, 'mW/cm2'],
      'spot on the retina, planned': [3600, 'um'],
      'wavelength prescribed, not read back': [689, 'nm'],
      "from the infusion's start to the light": [900, 's'],
    });
    const { effectivePeriod } = observationOf<{ effectivePeriod: Period }>(bundle, 'light given, left eye');
    expect(spanOf(effectivePeriod)).toStrictEqual([wallOf('beam-on', 1), wallOf('beam-off', 1)]);
  });

  test('of a treatment that was stopped are what had been given by then, and why it ended', () => {
    const cut = extractOfSteps([...stepsBefore('begin-flush'), stop(T0_AT_MS + 300_000)]);
    const { dosage, statusReason, effectivePeriod } = oneOf<{
      dosage: { dose: { value: number }; text: string };
      statusReason: Part[];
      effectivePeriod: Period;
    }>(bundleOf(cut), 'MedicationAdministration');
    // 300 of 600 s: half of 11 mg has left the syringe, less what the line of 1.5 mL, primed with diluent, still holds.
    expect(dosage.dose.value).toBeCloseTo(11 * (300 / 600 - 1.5 / 30), 6);
    expect(statusReason).toStrictEqual([{ text: 'the physician stops the treatment' }]);
    expect(Date.parse(effectivePeriod.end) - Date.parse(effectivePeriod.start)).toBe(300_000);
    expect(dosage.text).toContain('the pump ran 300 s of 600 s planned');
  });

  test('of light cut short are the seconds that were given', () => {
    const at = atOf('beam-on');
    const steps = [
      ...stepsBefore('beam-off:right'),
      step(at + 40_000, { kind: 'beam-off', endedByLaser: false }, OPERATOR),
      step(at + 60_000, { kind: 'stop-early', reason: 'the patient moves' }, OPERATOR),
    ];
    const cut = bundleOf(extractOfSteps(steps));
    expect(components(cut, 'light given, right eye')['light given']).toStrictEqual([40, 's']);
    expect(statusOf(cut, 'Procedure')).toBe('stopped');
  });

  test('of light that was not all given are never those of a completed procedure, also where nobody stopped it', () => {
    const at = atOf('beam-on');
    const later = ONE_EYE.slice(stepsBefore('end-light').length).map((one) =>
      one.name === 'end-light'
        ? { ...one, command: { kind: 'end-light', override: { reason: 'the patient cannot hold still' } } as const }
        : one,
    );
    const steps = [
      ...stepsBefore('beam-off:right'),
      step(at + 40_000, { kind: 'beam-off', endedByLaser: false }, OPERATOR),
      ...later,
    ];
    expect(statusOf(bundleOf(extractOfSteps(steps)), 'Procedure')).toBe('stopped');
  });
});
