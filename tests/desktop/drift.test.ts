import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { minutesSeconds } from '../../core/time/show.ts';
import { apartAtFlipMs, apartMs } from '../bench/drift/apart.ts';
import { measureDrift } from '../bench/drift/measure.ts';
import { type Desktop, desktop, HAS_DESKTOP } from './desktop.ts';

const SECONDS_EACH = 8;
const REAL_TIME = 1;

describe.skipIf(!HAS_DESKTOP)('what the board counts, beside what is in the ledger', () => {
  let desk: Desktop;

  beforeAll(async () => {
    desk = await desktop(REAL_TIME);
  });
  afterAll(() => desk?.stop());

  test('is the same, left alone, covered, and on a busy machine', { timeout: 240_000 }, async () => {
    if (desk.board === null) return;
    const { clocks, conditions } = await measureDrift(desk, SECONDS_EACH);
    console.log(JSON.stringify({ clocks, conditions }));
    expect(conditions.map(({ condition }) => condition)).toEqual([
      'idle',
      'covered by another window',
      'every core busy',
    ]);
    for (const { condition, flips, leastMs } of conditions) {
      expect(flips, condition).toBeGreaterThan(0);
      // How fast this machine is does not matter: rounded the other way, or a second behind, no flip is nearer than this.
      expect(leastMs, condition).toBeLessThan(500);
    }
  });
});

describe('a shown count', () => {
  test('is not apart from what it stands for', () => {
    fc.assert(
      fc.property(fc.double({ min: -3_600_000, max: 3_600_000, noNaN: true }), (leftMs) => {
        const { over, text } = minutesSeconds(leftMs);
        expect(apartMs(`${over ? '+' : ''}${text}`, leftMs)).toBeCloseTo(0, 6);
      }),
    );
  });

  test('is apart by how late it went, or how early it came', () => {
    expect(apartMs('0:10', 8_700)).toBe(300);
    expect(apartMs('0:10', 10_250)).toBe(250);
    expect(apartMs('+0:03', -4_080)).toBe(80);
    expect(apartMs('0:00', -40)).toBe(40);
    const flip = { count: 0, before: '2:00', after: '1:59', atPageMs: 0, frameMs: 17 };
    expect(apartAtFlipMs(flip, 119_000)).toBe(0);
    expect(apartAtFlipMs(flip, 118_970)).toBe(30);
    expect(apartAtFlipMs(flip, 119_020)).toBe(20);
  });
});
