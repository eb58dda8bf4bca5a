import fc from 'fast-check';
import { expect, test } from 'vitest';
import { CHECK_IDS } from '../../core/procedure/checks.ts';
import { type Command, commandSchema, HOLD_REASONS } from '../../core/procedure/commands.ts';
import { REGIMENS } from '../../core/regimen/regimens.ts';
import { brokenAt, entriesIn } from './independent-reading.ts';
import { newFolder, startStation } from './station-under-test.ts';
import { type Given, NURSE, OTHER_NURSE, open, requestOf, sentences, TREATMENT, treat } from './treatment.ts';

const from = fc.constantFrom;
const kind = <K extends Command['kind']>(name: K) => fc.constant(name);
const eye = from('right' as const, 'left' as const);
const item = from(...CHECK_IDS);
const words = from('said so', 'x'.repeat(500), 'a\u0000b\u2028c', '"quoted"; DROP TABLE entries', 'größer als 3 µm ✓');
const day = from('0001-01-01', '1951-03-02', '2024-02-29', '9999-12-31');
const override = from(undefined, undefined, { reason: 'the physician agrees' });
const regimenId = from(...REGIMENS.map((one) => one.id), 'no-such-regimen');
const heightCm = from(50, 168, 250);
const weightKg = from(10, 71.5, 350);
const formula = from(
  'mosteller' as const,
  'du-bois' as const,
  'haycock' as const,
  'gehan-george' as const,
  'boyd' as const,
);
const lesions = fc.uniqueArray(fc.record({ eye, gldUm: from(100, 2600, 12_000) }), {
  minLength: 1,
  maxLength: 2,
  selector: (lesion) => lesion.eye,
});

/** Commands at the edges of what may be said at all, without regard to sense. */
const anyCommand: fc.Arbitrary<Command> = fc
  .oneof(
    from(...TREATMENT.map(({ command }) => command)),
    fc.record({ kind: kind('identify'), patientCode: from('K-2041', 'A1', 'x'.repeat(24)), birthDate: day }),
    fc.record({
      kind: kind('order'),
      regimenId,
      lesions,
      orderedBy: from('Dr', 'x'.repeat(80)),
      offLabelReason: words,
    }),
    fc.record({ kind: kind('measure'), heightCm, weightKg, formula }),
    fc.record({ kind: kind('second-check'), heightCm, weightKg, regimenId, lesions }),
    fc.record({ kind: kind('prepare'), reconstitutedAgoS: from(0, 0.001, 86_400), override }),
    fc.record({ kind: kind('drug'), lot: from('1', 'x'.repeat(30)), expires: day }),
    fc.record({ kind: kind('prime-line'), override }),
    fc.record({ kind: kind('line'), lineMl: from(0, 1.5, 20), primedWith: from('drug' as const, 'diluent' as const) }),
    fc.record({ kind: kind('start-pump'), override }),
    fc.record({ kind: kind('hold'), reason: from(...HOLD_REASONS) }),
    fc.record({ kind: kind('resume') }),
    fc.record({ kind: kind('set-back'), agoS: from(0.001, 8, 120) }),
    fc.record({ kind: kind('begin-flush'), override }),
    fc.record({ kind: kind('end-flush'), flushMl: from(0, 5, 50), override }),
    fc.record({
      kind: kind('read-back'),
      eye,
      lensFactor: from(0.5, 1.5, 3),
      laserLensFactor: from(0.5, 1.5, 3),
      setSpotUm: from(50, 2400, 15_000),
      irradianceMwPerCm2: from(10, 600, 2000),
      exposureS: from(1, 83, 1000),
    }),
    fc.record({ kind: kind('beam-on'), eye, override }),
    fc.record({ kind: kind('beam-off'), endedByLaser: fc.boolean() }),
    fc.record({ kind: kind('end-light'), override }),
    fc.record({ kind: kind('reactions'), words }),
    fc.record({ kind: kind('review'), reviewDate: day }),
    fc.record({ kind: kind('discharge'), override }),
    fc.record({ kind: kind('check'), item, eye: fc.option(eye, { nil: undefined }) }),
    fc.record({ kind: kind('uncheck'), item, eye: fc.option(eye, { nil: undefined }), reason: words }),
    fc.record({ kind: kind('note'), words }),
    fc.record({ kind: kind('deviation'), words, reason: words }),
    fc.record({ kind: kind('addendum'), words, reason: words }),
    fc.record({ kind: fc.constant('stop-early' as const), reason: words }),
  )
  .map((command) => commandSchema.parse(JSON.parse(JSON.stringify(command))));

const anyStep = fc.record({
  afterS: from(0, 0, 0, 1, 30, 90, 600),
  by: from(NURSE, OTHER_NURSE),
  command: anyCommand,
});

test('whatever is commanded at any point of a treatment is entered or refused, and a station started anew takes it up', async () => {
  const course = fc.record({
    done: fc.integer({ min: 0, max: TREATMENT.length - 1 }),
    next: fc.array(anyStep, { minLength: 40, maxLength: 60, size: 'max' }),
  });
  await fc.assert(fc.asyncProperty(course, holds), { numRuns: 5, endOnFailure: true });
});

async function holds({ done, next }: { done: number; next: { afterS: number; by: Given['by']; command: Command }[] }) {
  const data = newFolder();
  const station = await startStation(data, '--practice', '--stepped');
  const { sessionId } = await open(station);
  for (const step of TREATMENT.slice(0, done)) {
    await station.advanceTo(step.atS * 1000);
    await treat(station, sessionId, [step]);
  }
  for (const { afterS, by, command } of next) {
    await station.advanceTo(station.latest().nowMs + afterS * 1000);
    const reply = await station.ask(requestOf(station, sessionId, { by, command }));
    expect(['entered', 'refused']).toContain(reply.type);
  }
  const { state } = station.view(sessionId);
  await station.kill();
  expect(brokenAt(entriesIn(station.database))).toStrictEqual([]);
  const again = await startStation(data, '--practice', '--stepped');
  if (state !== 'discharged') expect(again.view(sessionId).state).toBe(state);
  await again.stop();
}

test('a regimen that is not on offer is refused by name, and the session is shown and taken up as before', async () => {
  const data = newFolder();
  const station = await startStation(data);
  const { sessionId } = await open(station);
  const lesions = [{ eye: 'right' as const, gldUm: 2600 }];
  const order: Command = { kind: 'order', regimenId: 'no-such-regimen', lesions, orderedBy: 'the physician' };
  const reply = await station.ask(requestOf(station, sessionId, { by: NURSE, command: order }));
  expect(sentences(reply)).toMatch(/No regimen is called "no-such-regimen"/);
  await station.kill();
  const again = await startStation(data);
  expect(again.view(sessionId)).toMatchObject({ state: 'planning', regimen: null });
});
