import { describe, expect, test } from 'vitest';
import type { CommandOf } from '../../core/procedure/commands.ts';
import { atOf, give, missing, OPERATOR, RIGHT, readyFor, settingsFor } from '../session-steps.ts';

describe('settings read back from the laser', () => {
  const beamWith = (settings: CommandOf<'read-back'>) => {
    const atMs = atOf('beam-on') - 1000;
    return missing(
      give(readyFor('beam-on'), settings, atMs, OPERATOR),
      { kind: 'beam-on', eye: 'right' },
      atMs + 1000,
      OPERATOR,
    );
  };
  const seen = settingsFor(RIGHT);

  test('as planned let the beam on', () => {
    expect(beamWith(seen)).toEqual([]);
  });

  test('with another lens on the eye than entered into the laser are named and block the beam', () => {
    const [says, ...more] = beamWith({ ...seen, lensFactor: 1.96 });
    expect(more).toEqual([]);
    expect(says).toMatch(
      /^right eye: The laser does not agree with the plan: lens factor entered 1\.5 instead of 1\.96/,
    );
  });

  test.each([
    [{ exposureS: 42 }, 'exposure 42 s instead of 83'],
    [{ irradianceMwPerCm2: 300 }, 'irradiance 300 mW/cm2 instead of 600'],
    [{ setSpotUm: 3600 }, 'spot on the retina 5400 um instead of 3600'],
  ])('with %o are named', (wrong, words) => {
    expect(beamWith({ ...seen, ...wrong })[0]).toContain(words);
  });

  test('read back again as planned, they no longer block', () => {
    const atMs = atOf('beam-on') - 2000;
    const wrong = give(readyFor('beam-on'), { ...seen, lensFactor: 1.96 }, atMs, OPERATOR);
    const right = give(wrong, seen, atMs + 1000, OPERATOR);
    expect(missing(right, { kind: 'beam-on', eye: 'right' }, atMs + 2000, OPERATOR)).toEqual([]);
  });

  test('of an eye that is not ordered are refused', () => {
    const left = settingsFor({ eye: 'left', gldUm: 1850 });
    expect(missing(readyFor('beam-on'), left, atOf('beam-on'), OPERATOR)).toEqual([
      'the left eye is not ordered: enter what happened as a deviation',
    ]);
  });
});
