import { describe, expect, test } from 'vitest';
import { AudioTime } from '../../../renderer/cues/audio-time.ts';
import { canSound, type SoundFacts, soundStateOf } from '../../../renderer/cues/sound-state.ts';

const ALL_WELL: SoundFacts = {
  context: 'running',
  broken: null,
  loaded: true,
  outputs: 1,
  standsStill: false,
  changed: false,
};

describe('what is said of the sound', () => {
  test.each([
    ['all is well', {}, 'ready', 'sound is on'],
    ['the page is not told of devices', { outputs: null }, 'ready', 'sound is on'],
    ['no key was pressed', { context: 'suspended' }, 'blocked', 'sound is waiting for a key press'],
    ['a call has the loudspeaker', { context: 'interrupted' }, 'blocked', 'sound is waiting for a key press'],
    ['there is no audio at all', { context: null }, 'failed', 'this screen has no sound: watch the counts'],
    ['no device is there', { outputs: 0 }, 'failed', 'no sound device is connected: watch the counts'],
    [
      'no device and no key',
      { outputs: 0, context: 'suspended' },
      'failed',
      'no sound device is connected: watch the counts',
    ],
    ['the device takes nothing', { standsStill: true }, 'failed', 'the sound device does not answer: watch the counts'],
    ['a file is broken', { broken: 'late' }, 'failed', 'the sound "late" cannot be played: watch the counts'],
    ['files are on their way', { loaded: false }, 'blocked', 'the sounds are being loaded'],
    ['a device came or went', { changed: true }, 'doubtful', 'the sound device has changed: press S and listen'],
  ])('where %s', (_, facts, state, words) => {
    expect(soundStateOf({ ...ALL_WELL, ...facts })).toEqual({ state, words });
  });

  test('a cue is sounded on a device that is doubtful, and on none that failed or is blocked', () => {
    expect(
      (['ready', 'doubtful', 'blocked', 'failed'] as const).map((state) => canSound({ state, words: '' })),
    ).toEqual([true, true, false, false]);
  });
});

describe('the audio clock and the page', () => {
  const noted = (...offsetsMs: number[]): AudioTime => {
    const time = new AudioTime();
    offsetsMs.forEach((offsetMs, index) => {
      const pageMs = 1_000 + index * 200;
      time.note({ pageMs, contextS: (pageMs + offsetMs) / 1000 });
    });
    return time;
  };

  test('translate into each other', () => {
    const time = noted(-400);
    expect(time.contextSAt(2_400)).toBeCloseTo(2, 9);
    expect(time.pageMsAt(2)).toBeCloseTo(2_400, 6);
  });

  test('a moment that is off by a block of the card is not believed by itself', () => {
    expect(noted(-400, -400.1, -420, -399.9, -400, -380, -400.1).pageMsAt(2)).toBeCloseTo(2_400, 0);
  });

  test('a card that stood still is followed at once', () => {
    expect(noted(-400, -400, -400, -400, -900).pageMsAt(2)).toBeCloseTo(2_900, 6);
  });

  test('nothing is known before the first moment, nor of another clock', () => {
    const time = noted(-400);
    expect(new AudioTime().known()).toBe(false);
    expect(time.known()).toBe(true);
    time.forget();
    expect(time.known()).toBe(false);
  });
});
