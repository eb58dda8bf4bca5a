import { describe, expect, test } from 'vitest';
import { atOf, ONE_EYE, stepsBefore, TWO_EYES } from '../session-steps.ts';
import { allOf, bundleOf, entriesOf, oneOf, type Part, step, VERSION } from './fhir-reading.ts';
import { complaintsOf } from './fhir-validators.ts';
import { extractOfSteps } from './ledger-of.ts';

describe('who and what it names', () => {
  const extract = extractOfSteps(ONE_EYE);
  const bundle = bundleOf(extract);

  test('is the patient by code alone: the date of birth is nowhere in it', () => {
    expect(oneOf(bundle, 'Patient').identifier).toMatchObject([{ value: 'K-2041' }]);
    expect(JSON.stringify(bundle)).not.toMatch(/1951|birthDate/);
  });

  test('is everybody who entered anything, by initials alone', () => {
    const initials = allOf(bundle, 'Practitioner').map(({ identifier }) => (identifier as unknown as Part[])[0]?.value);
    expect(initials).toStrictEqual(['MO', 'TK', 'RV']);
    for (const one of allOf(bundle, 'Practitioner')) expect(one).not.toHaveProperty('name');
  });

  test('is this program with its version', () => {
    expect(oneOf(bundle, 'Device').version).toStrictEqual([{ value: VERSION }]);
  });

  test('is every entry of the session, with its place, its author, its instant and its hash', () => {
    const events = allOf(bundle, 'AuditEvent');
    expect(events).toHaveLength(extract.entries.length);
    events.forEach((event, index) => {
      const entry = extract.entries[index];
      const [entity] = event.entity as unknown as { detail: { type: string; valueString: string }[] }[];
      const details = Object.fromEntries((entity?.detail ?? []).map(({ type, valueString }) => [type, valueString]));
      expect(details).toStrictEqual({
        seq: String(entry?.seq),
        kind: entry?.kind,
        continuousMs: String(entry?.continuousMs),
        boot: entry?.boot,
        prevHash: entry?.prevHash,
        hash: entry?.hash,
      });
      expect(Date.parse(String(event.recorded))).toBe(entry?.wallMs);
      const [agent] = event.agent as unknown as { requestor: boolean; role: Part[] }[];
      expect([agent?.requestor, agent?.role]).toStrictEqual([
        entry?.author.role !== 'station',
        [{ text: entry?.author.role }],
      ]);
    });
  });

  test('is where it comes from: the ledger by its head, over every clinical resource', () => {
    const { entity, target } = oneOf<{ entity: { what: { identifier: Part } }[]; target: Part[] }>(
      bundle,
      'Provenance',
    );
    expect(entity[0]?.what.identifier.value).toBe(`dimroom:${extract.fileId}:${extract.head.seq}:${extract.head.hash}`);
    expect(entity[1]?.what.identifier.value).toBe(extract.entries.at(-1)?.hash);
    const clinical = ['Procedure', 'Medication', 'MedicationAdministration', 'Observation'].flatMap((type) =>
      allOf(bundle, type),
    );
    expect(target).toHaveLength(clinical.length);
  });

  test('is no code of a terminology that needs a licence', () => {
    const systems = new Set([...JSON.stringify(bundle).matchAll(/"system":"([^"#]*)/g)].map(([, system]) => system));
    expect([...systems].filter((system) => system?.startsWith('http')).sort()).toStrictEqual([
      'http://dicom.nema.org/resources/ontology/DCM',
      'http://loinc.org',
      'http://terminology.hl7.org/CodeSystem/observation-category',
      'http://terminology.hl7.org/CodeSystem/provenance-participant-type',
      'http://unitsofmeasure.org',
    ]);
    const notices = JSON.stringify((bundle.meta as unknown as { extension: Part[] }).extension);
    expect(notices).toMatch(/content from LOINC .*copyright © Regenstrief Institute/);
    expect(notices).toMatch(/UCUM table and UCUM codes are copyright/);
  });

  test('is the same, byte for byte, whenever it is exported', () => {
    expect(JSON.stringify(bundleOf(extractOfSteps(ONE_EYE)))).toBe(JSON.stringify(bundle));
  });
});

describe('practice', () => {
  const label = {
    system: 'http://terminology.hl7.org/CodeSystem/v3-ActReason',
    code: 'HTEST',
    display: 'test health data',
  };
  const practised = bundleOf(extractOfSteps(TWO_EYES, true));

  test('is labelled as test health data on the bundle and on every resource, by code and in words', () => {
    expect(complaintsOf(practised)).toStrictEqual([]);
    for (const { meta } of [practised, ...entriesOf(practised).map(({ resource }) => resource)]) {
      expect(meta).toMatchObject({
        security: [label],
        tag: [{ code: 'PRACTICE', display: 'PRACTICE, not for a patient' }],
      });
    }
    for (const { resource } of entriesOf(practised)) {
      expect((resource.text as unknown as Part).div).toContain('<p>PRACTICE, not for a patient</p>');
    }
  });

  test('is never said of a patient’s session', () => {
    expect(JSON.stringify(bundleOf(extractOfSteps(TWO_EYES)))).not.toMatch(/HTEST|PRACTICE/);
  });
});

describe('what cannot be exported', () => {
  test('is a session whose order is withheld', () => {
    expect(() => bundleOf(extractOfSteps(stepsBefore('second-check')))).toThrow(/is not exported yet/);
  });

  test('is a session that cannot be read to its end: part of a treatment would look like all of it', () => {
    const whole = extractOfSteps(ONE_EYE);
    const bent = { ...whole, entries: whole.entries.filter(({ kind }) => kind !== 'prime-line') };
    expect(() => bundleOf(bent)).toThrow(/cannot be read to its end/);
  });
});

test('whatever people wrote stands in the bundle as text, and breaks nothing of it', () => {
  const words = '<script>&"quoted"</script> \u0007 ＝漢 ]]> end';
  const steps = [...stepsBefore('prepare'), step(atOf('prepare') - 1, { kind: 'note', words })];
  const bundle = bundleOf(extractOfSteps(steps));
  expect(complaintsOf(bundle)).toStrictEqual([]);
  const [event] = allOf(bundle, 'AuditEvent').slice(-1);
  const said = JSON.stringify(event);
  expect(said).toContain(JSON.stringify(`note: ${words.replace('\u0007', ' ')}`));
  expect(said).toContain('&lt;script&gt;&amp;&quot;quoted&quot;');
});
