import { describe, expect, test } from 'vitest';
import { COMMAND_KINDS } from '../../core/procedure/commands.ts';
import { CUE_IDS, CUE_TABLE, SIGNALS_SPOKEN, SOUNDS } from '../../core/procedure/cue-table.ts';
import { LANGUAGES } from '../../core/settings/language.ts';

const rows = CUE_IDS.map((id) => ({ id, ...CUE_TABLE[id] }));

describe.each(rows)('$id', ({ words, spoken, repeats, answer, aheadMs, source }) => {
  test('says on the screen what it tells, in small letters and without a figure of the dose', () => {
    expect(words).toMatch(/^[a-z0-9 :]{8,48}$/);
    expect(words).not.toMatch(/mg|ml|j\/cm/i);
  });

  test('is spoken in every language, short, and without digits or signs that a voice would trip over', () => {
    expect(Object.keys(spoken)).toEqual(LANGUAGES);
    for (const text of Object.values(spoken)) expect(text).toMatch(/^[\p{Lu}][\p{L} ,.]{5,55}\.$/u);
  });

  test('is repeated, if it is, at a pace that leaves room to speak, and comes to an end', () => {
    if (repeats === null) return;
    expect(repeats.everyMs).toBeGreaterThanOrEqual(10_000);
    expect(repeats.everyMs * (repeats.mostTimes - 1)).toBeLessThanOrEqual(5 * 60_000);
  });

  test('is repeated only where it asks for something to be done now', () => {
    if (aheadMs > 0) expect(repeats).toBeNull();
  });

  test('names the step that answers it, and where its figures come from', () => {
    expect(COMMAND_KINDS).toContain(answer.step);
    expect(source).toMatch(/local practice|SmPC/);
  });
});

test('every sound belongs to a cue, and no two cues of one instant sound alike at one time', () => {
  expect(new Set(rows.map(({ sound }) => sound))).toEqual(new Set(SOUNDS));
  const shared = rows.filter((row) => rows.some((other) => other.id !== row.id && other.sound === row.sound));
  expect(shared.map(({ id }) => id)).toEqual(['drug-expiry-30min', 'drug-expiry']);
});

test('in no language are two cues spoken alike', () => {
  for (const language of LANGUAGES) {
    const texts = [...rows.map(({ spoken }) => spoken), ...Object.values(SIGNALS_SPOKEN)].map((one) => one[language]);
    expect(new Set(texts).size).toBe(texts.length);
  }
});

test('an end that nobody answers is told more than once; what is only foretold is not', () => {
  expect(rows.filter(({ repeats }) => repeats !== null).map(({ id }) => id)).toEqual([
    'infusion-end',
    'flush-end',
    'light-window-open',
    'exposure-end',
  ]);
});
