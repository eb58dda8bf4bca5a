import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CUE_IDS } from '../../core/procedure/cue-table.ts';
import { BETWEEN_MS } from '../../renderer/cues/in-turn.ts';
import { cue, LATE_MS, onTheBench, outcomesOf, repeating, soundsOf, TONE_MS, WORDS_MS } from './cues/pretend-sound.ts';

describe('a cue', () => {
  test('sounds at its very instant, and once', () => {
    const bench = onTheBench();
    bench.keep([cue('light-window-open', 10_037.25)]);
    bench.runTo(60_000);
    bench.keep([cue('light-window-open', 10_037.25)]);
    bench.runTo(61_000);
    expect(soundsOf(bench)).toEqual([['light-window-open', 10_037.25]]);
    expect(outcomesOf(bench)).toEqual([[10_037.25, 'sounded']]);
    expect(bench.told[0]?.lateMs).toBe(0);
  });

  test('sounds in time though the page stands still around its instant', () => {
    const bench = onTheBench();
    bench.keep([cue('light-window-open', 10_000)]);
    bench.runTo(7_300);
    bench.pageStopsUntil(10_900);
    expect(soundsOf(bench)).toEqual([['light-window-open', 10_000]]);
    expect(outcomesOf(bench)).toEqual([[10_000, 'sounded']]);
  });

  test('of two sessions sounds for each', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000, { sessionId: 'one' }), cue('infusion-end', 9_000, { sessionId: 'two' })]);
    bench.runTo(20_000);
    expect(soundsOf(bench).map(([, atMs]) => atMs)).toEqual([5_000, 9_000]);
  });

  test('whose instant moved sounds at the new one alone, later or earlier', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000), cue('light-window-open', 20_000)]);
    bench.runTo(4_990);
    bench.keep([cue('infusion-end', 9_000), cue('light-window-open', 12_000)]);
    bench.runTo(30_000);
    expect(soundsOf(bench)).toEqual([
      ['infusion-end', 9_000],
      ['light-window-open', 12_000],
    ]);
  });

  test('that is taken away does not sound, up to the last hundredth', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000)]);
    bench.runTo(4_990);
    bench.keep([]);
    bench.runTo(20_000);
    expect(bench.heard).toEqual([]);
    expect(bench.told).toEqual([]);
  });

  test('that has begun sounds on when it is in the list no more', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000)]);
    bench.runTo(5_100);
    bench.keep([cue('light-window-2min', 5_200)]);
    bench.runTo(20_000);
    expect(soundsOf(bench)).toEqual([
      ['infusion-end', 5_000],
      ['light-window-2min', 5_000 + TONE_MS + BETWEEN_MS],
    ]);
  });

  test('keeps to the station where that runs faster than real time', () => {
    const bench = onTheBench({ rate: 20 });
    bench.keep([cue('infusion-end', 600_010)]);
    bench.runTo(60_000);
    expect(soundsOf(bench)).toEqual([['infusion-end', 30_000.5]]);
  });

  test('that was heard is not heard again where its instant is set back', () => {
    const bench = onTheBench();
    bench.keep([cue('light-window-2min', 10_000)]);
    bench.runTo(10_500);
    bench.keep([cue('light-window-2min', 2_000)]);
    bench.runTo(40_000);
    expect(soundsOf(bench)).toEqual([['light-window-2min', 10_000]]);
    expect(bench.noticed).toHaveLength(1);
  });

  test('of a clock that is stopped is silent', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000)]);
    bench.runTo(4_000);
    bench.clock.stop();
    bench.runTo(20_000);
    expect(bench.heard).toEqual([]);
  });
});

describe('the sound card', () => {
  test('that fell behind before the instant is caught up with', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 10_000)]);
    bench.runTo(9_000);
    bench.cardFallsBehind(180);
    bench.runTo(20_000);
    expect(soundsOf(bench)).toEqual([['infusion-end', 10_000]]);
  });

  test('that drifts is followed within 5 ms', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 120_000)]);
    for (let atMs = 100; atMs <= 121_000; atMs += 100) {
      bench.cardFallsBehind(0.02);
      bench.runTo(atMs);
    }
    expect(Math.abs((bench.heard[0]?.atMs ?? 0) - 120_000)).toBeLessThan(5);
    expect(bench.heard).toHaveLength(1);
  });
});

describe('two together', () => {
  test('are heard one after the other', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000), cue('light-window-2min', 5_000), cue('drug-expiry', 5_300)]);
    bench.runTo(20_000);
    const step = TONE_MS + BETWEEN_MS;
    expect(bench.heard.map(({ atMs }) => atMs)).toEqual([5_000, 5_000 + step, 5_000 + 2 * step]);
    expect(bench.told.map(({ outcome, lateMs }) => [outcome, lateMs])).toEqual([
      ['sounded', 0],
      ['sounded', step],
      ['sounded', 2 * step - 300],
    ]);
  });

  test('a repeat stands back behind what sounds for the first time', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000, { repeat: 3 }), cue('light-window-open', 5_400)]);
    bench.runTo(20_000);
    expect(soundsOf(bench)).toEqual([
      ['light-window-open', 5_400],
      ['infusion-end', 5_400 + TONE_MS + BETWEEN_MS],
    ]);
  });

  test('repeats that come faster than they can sound leave the later ones out of the queue', () => {
    const bench = onTheBench({ rate: 60 });
    bench.keep(repeating('infusion-end', 60_000));
    bench.runTo(10_000);
    const lastDueMs = (60_000 + 19 * 15_000) / 60;
    expect(bench.heard[0]?.atMs).toBe(1_000);
    expect(bench.heard.length).toBeLessThan(8);
    expect(bench.heard.at(-1)?.atMs).toBeLessThan(lastDueMs + TONE_MS + BETWEEN_MS);
    expect(bench.told).toHaveLength(20);
  });

  test('one far back in the queue waits for its turn, and is not taken for missed', () => {
    const bench = onTheBench();
    const sessions = ['one', 'two', 'three', 'four', 'five', 'six'];
    bench.keep(sessions.map((sessionId) => cue('infusion-end', 5_000, { sessionId })));
    bench.runTo(60_000);
    expect(bench.heard.map(({ atMs }) => atMs)).toEqual(sessions.map((_, at) => 5_000 + at * (TONE_MS + BETWEEN_MS)));
    expect(bench.told.map(({ outcome }) => outcome)).toEqual(sessions.map(() => 'sounded'));
  });

  test('whatever is due, no two sounds overlap and each is told of once', () => {
    const anyCue = fc.record({
      id: fc.constantFrom(...CUE_IDS),
      dueAtMs: fc.integer({ min: 200, max: 20_000 }),
      sessionId: fc.constantFrom('one', 'two'),
      repeat: fc.integer({ min: 0, max: 2 }),
    });
    fc.assert(
      fc.property(fc.array(anyCue, { minLength: 1, maxLength: 12 }), fc.boolean(), (drawn, spoken) => {
        const all = drawn.map(({ id, dueAtMs, ...more }) => cue(id, dueAtMs, more));
        const cues = [...new Map(all.map((one) => [one.key, one])).values()];
        const bench = onTheBench();
        bench.keep(cues, spoken);
        bench.runTo(90_000);
        const spans = bench.heard.map(({ files, atMs }) => ({ atMs, endMs: atMs + lengthOf(files) }));
        spans.forEach(({ endMs }, index) => {
          expect((spans[index + 1]?.atMs ?? Number.POSITIVE_INFINITY) - endMs).toBeGreaterThanOrEqual(BETWEEN_MS - 1);
        });
        expect(bench.told.map(({ cue }) => cue.key).sort()).toEqual(cues.map(({ key }) => key).sort());
        expect(bench.told.filter(({ outcome }) => outcome !== 'silent')).toHaveLength(bench.heard.length);
        expect(bench.told.filter(({ outcome }) => outcome === 'late')).toEqual([]);
      }),
    );
  });
});

describe('spoken words', () => {
  test('follow the tone without a pause, where they are wanted', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000)], true);
    bench.runTo(20_000);
    expect(soundsOf(bench)).toEqual([['infusion-end spoken/en/infusion-end', 5_000]]);
  });

  test('are left out where the next tone would have to wait for them', () => {
    const bench = onTheBench();
    const next = 5_000 + TONE_MS + WORDS_MS;
    bench.keep([cue('infusion-end', 5_000), cue('light-window-2min', next)], true);
    bench.runTo(20_000);
    expect(soundsOf(bench)).toEqual([
      ['infusion-end', 5_000],
      ['light-window-2min spoken/en/light-window-2min', next],
    ]);
  });
});

const lengthOf = (files: readonly string[]): number =>
  files.reduce((sum, file) => sum + (file === 'late' ? LATE_MS : file.startsWith('spoken/') ? WORDS_MS : TONE_MS), 0);
