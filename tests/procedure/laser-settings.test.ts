import { describe, expect, test } from 'vitest';
import type { Command, CommandOf } from '../../core/procedure/commands.ts';
import { atOf, give, missing, OPERATOR, RIGHT, readyFor, settingsFor, waiting } from '../session-steps.ts';

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

describe('the laser read back', () => {
  const { irradianceMwPerCm2: _irradiance, ...bare } = settingsFor(RIGHT);
  const saysOf = (command: Command) => {
    const session = give(waiting(), command, atOf('read-back:right'), OPERATOR);
    return session.context.readBacks.right;
  };
  /** 600 mW/cm² over a spot of 3.6 mm. */
  const powerMw = 600 * Math.PI * 0.18 ** 2;

  test('by its power agrees where the power gives the ordered irradiance, and is named where it does not', () => {
    expect(saysOf({ ...bare, powerMw })).toMatchObject({ agrees: true });
    expect(saysOf({ ...bare, powerMw: powerMw * 1.2 })).toMatchObject({ agrees: false });
    expect(saysOf({ ...bare, powerMw: powerMw * 1.2 })?.says).toMatch(/does not agree with the plan: .*mW/);
  });

  test('waits for one figure of its light: neither none nor two', () => {
    const refused = ['enter what the laser shows: either power or irradiance'];
    expect(missing(waiting(), bare, atOf('read-back:right'), OPERATOR)).toEqual(refused);
    const both: Command = { ...settingsFor(RIGHT), powerMw };
    expect(missing(waiting(), both, atOf('read-back:right'), OPERATOR)).toEqual(refused);
  });
});
