import { UcumLhcUtils } from '@lhncbc/ucum-lhc';
import { describe, expect, test } from 'vitest';
import type { Resource } from '../../core/report/fhir/resource.ts';
import { ONE_EYE, type Step, stepsBefore, T0_AT_MS, TWO_EYES } from '../session-steps.ts';
import { bundleOf, entriesOf, type Part, statusOf, step, stop, stoppedBefore } from './fhir-reading.ts';
import { byCodes, byInvariants, complaintsOf } from './fhir-validators.ts';
import { extractOfSteps } from './ledger-of.ts';

const HELD: Step[] = [
  ...stepsBefore('begin-flush'),
  ...[step(T0_AT_MS + 200_000, { kind: 'hold', reason: 'pain' }), step(T0_AT_MS + 260_000, { kind: 'resume' })],
].sort((one, other) => one.atMs - other.atMs);

/** After a minute's hold: the pump goes off a minute later, and all that follows by as much. */
const HELD_WHOLE: Step[] = [
  ...HELD,
  ...ONE_EYE.slice(stepsBefore('begin-flush').length).map((one) => ({ ...one, atMs: one.atMs + 60_000 })),
];

/** The pump is off after 500 of 600 s, with a reason; the flush is done. */
const TAKEN_OFF_EARLY: Step[] = [
  ...stepsBefore('begin-flush'),
  step(T0_AT_MS + 500_000, { kind: 'begin-flush', override: { reason: 'the pump gives out, the physician goes on' } }),
  step(T0_AT_MS + 560_000, { kind: 'end-flush', flushMl: 5 }),
];

/** Every situation the bundle has to be right in: what each resource's status has to be then. */
const SITUATIONS: readonly (readonly [
  name: string,
  steps: readonly Step[],
  procedure: string,
  drug: string | undefined,
])[] = [
  ['a whole session', ONE_EYE, 'completed', 'completed'],
  ['both eyes', TWO_EYES, 'completed', 'completed'],
  ['a held infusion that went on', HELD_WHOLE, 'completed', 'completed'],
  ['just opened', [], 'preparation', undefined],
  ['planned, and computed by two', stepsBefore('prepare'), 'preparation', undefined],
  ['prepared', stepsBefore('prime-line'), 'preparation', undefined],
  ['primed', stepsBefore('start-pump'), 'preparation', undefined],
  ['infusing', stepsBefore('begin-flush'), 'in-progress', 'in-progress'],
  ['held', HELD.slice(0, -1), 'in-progress', 'on-hold'],
  ['flushing', stepsBefore('end-flush'), 'in-progress', 'in-progress'],
  ['waiting for the light window', stepsBefore('beam-on'), 'in-progress', 'completed'],
  ['with the beam on', stepsBefore('beam-off:right'), 'in-progress', 'completed'],
  ['between the eyes', stepsBefore('beam-on:left', TWO_EYES), 'in-progress', 'completed'],
  ['with the pump taken off early', TAKEN_OFF_EARLY, 'in-progress', 'stopped'],
  ['in after-care', stepsBefore('discharge'), 'in-progress', 'completed'],
  ['stopped in planning', stoppedBefore('order'), 'not-done', 'not-done'],
  ['stopped once planned', stoppedBefore('prepare'), 'not-done', 'not-done'],
  ['stopped when prepared', stoppedBefore('prime-line'), 'not-done', 'not-done'],
  ['stopped when primed', stoppedBefore('start-pump'), 'not-done', 'not-done'],
  ['stopped while infusing', [...stepsBefore('begin-flush'), stop(T0_AT_MS + 300_000)], 'stopped', 'stopped'],
  ['stopped while held', [...HELD.slice(0, -1), stop(T0_AT_MS + 230_000)], 'stopped', 'stopped'],
  ['stopped while flushing', stoppedBefore('end-flush'), 'stopped', 'stopped'],
  ['stopped while waiting', stoppedBefore('beam-on'), 'stopped', 'completed'],
  ['stopped with the beam on', stoppedBefore('beam-off:right'), 'stopped', 'completed'],
  ['stopped between the eyes', stoppedBefore('beam-on:left', TWO_EYES), 'stopped', 'completed'],
  ['stopped in after-care', stoppedBefore('discharge'), 'stopped', 'completed'],
];

describe.each(SITUATIONS)('%s', (_name, steps, procedure, drug) => {
  const bundle = bundleOf(extractOfSteps(steps));

  test('is a bundle that neither validator has anything to say about', () => {
    expect(complaintsOf(bundle)).toStrictEqual([]);
  });

  test(`has a procedure that is ${procedure}, and a drug that is ${drug ?? 'not told of'}`, () => {
    expect([statusOf(bundle, 'Procedure'), statusOf(bundle, 'MedicationAdministration')]).toStrictEqual([
      procedure,
      drug,
    ]);
  });

  test('refers to nothing that is not in it', () => {
    expect(danglingIn(bundle)).toStrictEqual([]);
  });

  test('has units of UCUM, spelled as UCUM has them', () => {
    const ucum = UcumLhcUtils.getInstance();
    const quantities = quantitiesIn(bundle);
    for (const { system, code } of quantities) {
      expect(system).toBe('http://unitsofmeasure.org');
      expect(ucum.validateUnitString(String(code), false)).toMatchObject({ status: 'valid', ucumCode: code });
    }
  });
});

/** References as the standard resolves them within a bundle: against the address of the resource that refers. */
function danglingIn(bundle: Resource): string[] {
  const addresses = new Set(entriesOf(bundle).map(({ fullUrl }) => fullUrl));
  expect(addresses.size).toBe(entriesOf(bundle).length);
  return entriesOf(bundle).flatMap(({ fullUrl, resource }) => {
    expect(fullUrl.endsWith(`/${resource.resourceType}/${resource.id}`)).toBe(true);
    const root = fullUrl.slice(0, -`${resource.resourceType}/${resource.id}`.length);
    const said = JSON.stringify(resource).matchAll(/"reference":"([^"]*)"/g);
    return [...said].map(([, reference]) => `${root}${reference}`).filter((address) => !addresses.has(address));
  });
}

function quantitiesIn(value: unknown): Part[] {
  if (value === null || typeof value !== 'object') return [];
  const own = 'code' in value && 'unit' in value ? [value as Part] : [];
  return [...own, ...Object.values(value).flatMap(quantitiesIn)];
}

describe('the two validators', () => {
  const bundle = bundleOf(extractOfSteps(ONE_EYE));
  const bent = (type: string, change: Part): Resource => ({
    ...bundle,
    entry: entriesOf(bundle).map(({ fullUrl, resource }) => ({
      fullUrl,
      resource: resource.resourceType === type ? { ...resource, ...change } : resource,
    })) as never,
  });

  test('between them notice what is wrong: a status of no kind, a missing field, a field too many, a broken rule', () => {
    expect(byCodes(bent('Procedure', { status: 'finished' })).join()).toMatch(/finished/);
    expect(byInvariants(bent('Observation', { status: undefined })).join()).toMatch(/status/);
    expect(byCodes(bent('Patient', { mood: 'calm' })).join()).toMatch(/mood/);
    expect(byInvariants(bent('MedicationAdministration', { dosage: { text: 'some' } })).join()).toMatch(/dose|mad-1/i);
    expect(byInvariants(bent('Procedure', { subject: { reference: 'Device/1' } })).join()).toMatch(/reference/i);
  });
});
