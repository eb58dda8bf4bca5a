import { describe, expect, test } from 'vitest';
import { GIVEN_UP_AFTER_MS } from '../../../renderer/cues/cue-clock.ts';
import { LATE_AFTER_MS } from '../../../renderer/cues/cue-plan.ts';
import { cue, onTheBench, outcomesOf, repeating, soundsOf } from './pretend-sound.ts';

describe('late', () => {
  const three = [cue('light-window-2min', 10_000), cue('light-window-1min', 70_000), cue('light-window-open', 130_000)];

  test('after the page, or the machine, stood still, the last one missed sounds once, and says so first', () => {
    for (const stop of ['allStopsUntil', 'pageStopsUntil'] as const) {
      const bench = onTheBench();
      bench.keep(three);
      bench.runTo(5_000);
      bench[stop](82_000);
      bench.runTo(200_000);
      expect(bench.heard.map(({ files }) => files.join(' '))).toEqual(['late light-window-1min', 'light-window-open']);
      expect(outcomesOf(bench)).toEqual([
        [10_000, 'silent'],
        [70_000, 'late'],
        [130_000, 'sounded'],
      ]);
      expect(bench.told[1]?.lateMs).toBeGreaterThanOrEqual(12_000);
      expect(bench.told[1]?.lateMs).toBeLessThan(12_000 + LATE_AFTER_MS);
      expect(bench.noticed.map(({ cue, lateMs }) => [cue.id, lateMs])).toEqual([
        ['light-window-1min', 12_000],
        ['light-window-open', null],
      ]);
    }
  });

  test('so it is after a sleep that only the station counted', () => {
    const bench = onTheBench();
    bench.keep(three);
    bench.runTo(9_000);
    bench.machineSleeps(75_000);
    bench.runTo(80_000);
    expect(bench.heard.map(({ files }) => files.join(' '))).toEqual(['late light-window-1min', 'light-window-open']);
    expect(outcomesOf(bench).map(([, outcome]) => outcome)).toEqual(['silent', 'late', 'sounded']);
  });

  test('a cue placed ahead is taken off the sound card where that stood still past its instant', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 10_000)]);
    bench.runTo(9_500);
    bench.allStopsUntil(16_000);
    bench.runTo(30_000);
    expect(bench.heard.map(({ files }) => files.join(' '))).toEqual(['late infusion-end']);
    expect(outcomesOf(bench)).toEqual([[10_000, 'late']]);
  });

  test('the lateness told is that of the first that was missed of its kind, not of its last repeat', () => {
    const bench = onTheBench();
    bench.keep(repeating('infusion-end', 10_000));
    bench.runTo(5_000);
    bench.allStopsUntil(57_000);
    bench.runTo(57_500);
    expect(bench.noticed.map(({ lateMs }) => lateMs)).toEqual([47_000]);
    expect(outcomesOf(bench)).toEqual([
      [10_000, 'silent'],
      [25_000, 'silent'],
      [40_000, 'silent'],
      [55_000, 'late'],
    ]);
  });

  test('a page that opens after the instant says so; one that opens a moment after just sounds', () => {
    const late = onTheBench({ startMs: 13_000 });
    late.keep([cue('light-window-open', 10_000)]);
    late.runTo(20_000);
    expect(late.heard.map(({ files }) => files)).toEqual([['late', 'light-window-open']]);
    const soon = onTheBench({ startMs: 10_000 + LATE_AFTER_MS - 100 });
    soon.keep([cue('light-window-open', 10_000)]);
    soon.runTo(20_000);
    expect(soon.heard.map(({ files }) => files)).toEqual([['light-window-open']]);
  });

  test('an instant that is set back into the past sounds as late', () => {
    const bench = onTheBench();
    bench.keep([cue('light-window-2min', 60_000)]);
    bench.runTo(50_000);
    bench.keep([cue('light-window-2min', 42_000)]);
    bench.runTo(90_000);
    expect(bench.heard.map(({ files }) => files)).toEqual([['late', 'light-window-2min']]);
    expect(bench.told[0]?.lateMs).toBeGreaterThanOrEqual(8_000);
  });

  test('spoken, it says the word before the words', () => {
    const bench = onTheBench({ startMs: 13_000 });
    bench.keep([cue('light-window-open', 10_000)], true);
    bench.runTo(20_000);
    expect(bench.heard[0]?.files).toEqual([
      'late',
      'light-window-open',
      'spoken/en/late',
      'spoken/en/light-window-open',
    ]);
  });
});

describe('without a sound', () => {
  test('a cue that can be sounded again soon is sounded late', () => {
    const bench = onTheBench();
    bench.able = false;
    bench.keep([cue('infusion-end', 5_000)]);
    bench.runTo(9_000);
    bench.able = true;
    bench.runTo(30_000);
    expect(soundsOf(bench).map(([files]) => files)).toEqual(['late infusion-end']);
    expect(outcomesOf(bench)).toEqual([[5_000, 'late']]);
  });

  test('one that cannot stays silent, is told of as such, and is shown all the same', () => {
    const bench = onTheBench();
    bench.able = false;
    bench.keep([cue('infusion-end', 5_000)]);
    bench.runTo(5_000 + GIVEN_UP_AFTER_MS + 2_000);
    bench.able = true;
    bench.runTo(60_000);
    expect(bench.heard).toEqual([]);
    expect(outcomesOf(bench)).toEqual([[5_000, 'silent']]);
    expect(bench.noticed.map(({ lateMs }) => lateMs)).toEqual([null]);
  });

  test('a device that goes takes what was placed on it along', () => {
    const bench = onTheBench();
    bench.keep([cue('infusion-end', 5_000)]);
    bench.runTo(4_000);
    bench.able = false;
    bench.runTo(30_000);
    expect(bench.heard).toEqual([]);
    expect(outcomesOf(bench)).toEqual([[5_000, 'silent']]);
  });
});

describe('where another window sounds', () => {
  test('this one is silent, reports nothing, and shows each cue', () => {
    const bench = onTheBench();
    bench.carrier = 'another';
    bench.keep([cue('infusion-end', 5_000)]);
    bench.runTo(60_000);
    expect(bench.heard).toEqual([]);
    expect(bench.told).toEqual([]);
    expect(bench.noticed.map(({ cue }) => cue.id)).toEqual(['infusion-end']);
  });

  test('it takes over what is still to come', () => {
    const bench = onTheBench();
    bench.carrier = 'another';
    bench.keep([cue('light-window-2min', 5_000), cue('light-window-1min', 65_000)]);
    bench.runTo(6_000);
    bench.keep([cue('light-window-1min', 65_000)]);
    bench.carrier = 'this';
    bench.runTo(100_000);
    expect(soundsOf(bench)).toEqual([['light-window-1min', 65_000]]);
  });
});
