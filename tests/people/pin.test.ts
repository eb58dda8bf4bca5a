import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Attempts, FREE_FAILURES, failedAgain, LONGEST_WAIT_MS, waitMs } from '../../core/people/attempts.ts';
import { chosenPinSchema, typedPinSchema } from '../../core/people/pin.ts';

describe('a PIN', () => {
  test.each(['28415', '1234567890123', '28 415', '28415a', ''])('%j is not one', (pin) => {
    expect(typedPinSchema.safeParse(pin).success).toBe(false);
  });

  test.each(['123456', '654321', '000000', '111111', '890123', '121212', '123123', '12341234'])(
    '%s is not to be chosen: it is among the first anybody tries',
    (pin) => {
      expect(typedPinSchema.safeParse(pin).success).toBe(true);
      expect(chosenPinSchema.safeParse(pin).success).toBe(false);
    },
  );

  test.each(['284159', '135790', '112233', '90817263'])('%s may be chosen', (pin) => {
    expect(chosenPinSchema.safeParse(pin).success).toBe(true);
  });
});

describe('wrong PINs', () => {
  const failed = (times: number, atMs: number): Attempts | undefined =>
    Array.from({ length: times }).reduce<Attempts | undefined>((before) => failedAgain(before, atMs), undefined);

  test('the first few cost no wait', () => {
    for (let times = 0; times < FREE_FAILURES; times += 1) expect(waitMs(failed(times, 0), 0)).toBe(0);
    expect(waitMs(failed(FREE_FAILURES, 0), 0)).toBe(30_000);
    expect(waitMs(failed(FREE_FAILURES + 1, 0), 0)).toBe(60_000);
  });

  test('a wait ends by itself, and is never longer than the longest', () => {
    fc.assert(
      fc.property(fc.integer({ min: FREE_FAILURES, max: 200 }), fc.nat(10 ** 12), (times, atMs) => {
        const wholeMs = waitMs(failed(times, atMs), atMs);
        expect(wholeMs).toBeGreaterThan(0);
        expect(wholeMs).toBeLessThanOrEqual(LONGEST_WAIT_MS);
        expect(waitMs(failed(times, atMs), atMs + wholeMs)).toBe(0);
      }),
    );
  });

  test('a clock that is set back shortens no wait', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: FREE_FAILURES, max: 50 }),
        fc.integer({ min: 1, max: 10 ** 11 }),
        (times, backMs) => {
          const atMs = 10 ** 12;
          expect(waitMs(failed(times, atMs), atMs - backMs)).toBe(waitMs(failed(times, atMs), atMs));
        },
      ),
    );
  });

  test('guessing all day, at the pace that is allowed, leaves a six-digit PIN one chance in thousands', () => {
    let nowMs = 0;
    let tried = 0;
    let attempts: Attempts | undefined;
    const dayMs = 86_400_000;
    while (nowMs < dayMs) {
      nowMs += waitMs(attempts, nowMs);
      attempts = failedAgain(attempts, nowMs);
      tried += 1;
    }
    expect(tried).toBeLessThan(300);
    expect(tried / 10 ** 6).toBeLessThan(1 / 3000);
  });
});
