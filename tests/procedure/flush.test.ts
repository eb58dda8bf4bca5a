import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { atOf, commandOf, flushing, give, infusing, instead, T0_AT_MS } from '../session-steps.ts';

const fromT0 = (seconds: number): number => T0_AT_MS + seconds * 1000;

describe('a flush', () => {
  test('after the pump was taken off early brings what had come into the line by then, and no more', () => {
    const early: Command = { kind: 'begin-flush', override: { reason: 'the vein hurts' } };
    // 20 s at 3 mL/min is 1 mL, of 11 mg in 30 mL, in a line that holds 1.5 mL of dextrose.
    const { flush } =
      give(give(infusing(), early, fromT0(20)), commandOf('end-flush'), fromT0(80)).context.course ?? {};
    expect(flush?.deliveredMg).toBeCloseTo(11 / 30, 9);
    expect(flush?.notDeliveredMg).toBe(0);
  });

  test('of a line that holds nothing brings nothing and leaves nothing, also where none was given', () => {
    const steps = instead('line', { kind: 'line', lineMl: 0, primedWith: 'diluent' });
    const end: Command = { kind: 'end-flush', flushMl: 0, override: { reason: 'the syringe is empty' } };
    const { flush } = give(flushing(steps), end, atOf('end-flush')).context.course ?? {};
    expect(flush).toMatchObject({ deliveredMg: 0, notDeliveredMg: 0 });
  });
});
