import { describe, expect, test } from 'vitest';
import { eyeInTurn } from '../../core/procedure/conditions.ts';
import { atOf, beamOff, courseOf, after as doneTo, LEFT, opened, planned, RIGHT, TWO_EYES } from '../session-steps.ts';

describe('the eye in turn', () => {
  test('before the pump is the first that was ordered, and none before that', () => {
    expect(eyeInTurn(opened().context, atOf('identify'))).toBeNull();
    expect(eyeInTurn(planned(courseOf([LEFT, RIGHT])).context, atOf('prepare'))).toBe('left');
  });

  test('once all have had their light is the last', () => {
    expect(eyeInTurn(doneTo('beam-off:left', TWO_EYES).context, atOf('end-light', TWO_EYES))).toBe('left');
    expect(eyeInTurn(beamOff().context, atOf('end-light'))).toBe('right');
  });
});
