import { describe, expect, test } from 'vitest';
import { deviationsOf } from '../../core/ledger/deviations.ts';
import type { CueSounded } from '../../core/procedure/due.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { stepsBefore, T0_AT_MS } from '../session-steps.ts';
import { ALL_SOUNDED, type CueFate, type Happening, live } from './lived-session.ts';
import { seeded } from './seeded-session.ts';

const EVERY_MS = 15_000;
const END_AT_MS = T0_AT_MS + 600_000;

/** The pump is left on past its end, and the cue of that end is repeated: what became of each, the first with it. */
function leftOn(outcomes: readonly CueSounded['outcome'][], lateMs = 0) {
  const [first, ...repeats] = outcomes;
  const fate: CueFate = (cue, dueAtMs) =>
    cue === 'infusion-end' && first !== undefined ? { outcome: first, lateMs } : ALL_SOUNDED(cue, dueAtMs);
  const told = repeats.map((outcome, index): Happening => {
    const dueAtMs = END_AT_MS + (index + 1) * EVERY_MS;
    return { atMs: dueAtMs + 100, event: { kind: 'cue-sounded', cue: 'infusion-end', dueAtMs, outcome, lateMs } };
  });
  const steps = stepsBefore('begin-flush').map(({ atMs, by, command }): Happening => ({ atMs, by, command }));
  const lived = live(
    [...steps, ...told, { atMs: END_AT_MS + 29_000, command: { kind: 'note', words: 'called away' } }],
    fate,
  );
  const seqs = lived.entries.filter(({ kind }) => kind === 'cue-sounded').map(({ seq }) => seq);
  const found = deviationsOf(lived.measures, DEFAULT_LIMITS).map(({ ruleId, seq }) => [ruleId, seqs.indexOf(seq)]);
  return { lived, found };
}

describe('a cue that is repeated', () => {
  test('every repeat is measured', () => {
    const { lived } = leftOn(['sounded', 'sounded', 'silent', 'sounded']);
    expect(lived.measures.cues.map(({ cue, outcome, dueFromT0Ms }) => [cue, outcome, dueFromT0Ms])).toEqual([
      ['infusion-end', 'sounded', 600_000],
      ['infusion-end', 'sounded', 615_000],
      ['infusion-end', 'silent', 630_000],
      ['infusion-end', 'sounded', 645_000],
    ]);
  });

  test('that stays silent is one deviation, where it began; silent again after it had sounded is another', () => {
    expect(leftOn(['sounded', 'sounded', 'sounded']).found).toEqual([]);
    expect(leftOn(['silent', 'silent', 'silent']).found).toEqual([['cue-silent', 0]]);
    expect(leftOn(['silent', 'sounded', 'silent', 'silent']).found).toEqual([
      ['cue-silent', 0],
      ['cue-silent', 2],
    ]);
  });

  test('that is late and then silent is both', () => {
    expect(leftOn(['late', 'late', 'silent'], 2000).found).toEqual([
      ['cue-late', 0],
      ['cue-silent', 2],
    ]);
  });
});

test('the same cue for the light of either eye is no repeat', () => {
  const cues: CueFate = (cue, dueAtMs) =>
    cue === 'exposure-end' ? { outcome: 'silent', lateMs: 0 } : ALL_SOUNDED(cue, dueAtMs);
  const { measures } = seeded({ secondEyeMs: -100_000, cues });
  expect(deviationsOf(measures, DEFAULT_LIMITS).map(({ ruleId }) => ruleId)).toEqual(['cue-silent', 'cue-silent']);
});
