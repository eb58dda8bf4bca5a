import fc from 'fast-check';
import { CHECK_IDS } from '../../core/procedure/checks.ts';
import { type Command, commandSchema, HOLD_REASONS, PUMP_SEEN } from '../../core/procedure/commands.ts';
import { CUE_IDS } from '../../core/procedure/cue-table.ts';
import { TROUBLE_IDS } from '../../core/procedure/trouble.ts';
import { REGIMENS } from '../../core/regimen/regimens.ts';
import { type Given, NURSE, OTHER_NURSE, TREATMENT } from './treatment.ts';

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
const lesions = fc.uniqueArray(fc.record({ eye, gldUm: from(100, 2600, 12_000) }), {
  minLength: 1,
  maxLength: 2,
  selector: (lesion) => lesion.eye,
});

/** Commands at the edges of what may be said at all, without regard to sense. */
export const anyCommand: fc.Arbitrary<Command> = fc
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
    fc.record({ kind: kind('measure'), heightCm, weightKg }),
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
    fc.record({ kind: kind('beam-set-back'), edge: from('on' as const, 'off' as const), agoS: from(0.001, 8, 300) }),
    fc.record({ kind: kind('trouble'), card: from(...TROUBLE_IDS) }),
    fc.record({ kind: kind('trouble-told'), card: from(...TROUBLE_IDS), words }),
    fc.record({ kind: kind('looked'), pump: from(...PUMP_SEEN) }),
    fc.record({ kind: kind('cue-heard'), cue: from(...CUE_IDS) }),
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

/** A command, whose hands give it, and how long after the one before it. */
export interface AnyStep {
  readonly afterS: number;
  readonly by: Given['by'];
  readonly command: Command;
}

export const anyStep: fc.Arbitrary<AnyStep> = fc.record({
  afterS: from(0, 0, 0, 1, 30, 90, 600),
  by: from(NURSE, OTHER_NURSE),
  command: anyCommand,
});
