import { Temporal } from '@js-temporal/polyfill';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lightCareHoursOf, lightCareOf, tooShortSays } from '../../core/after-care/light-care.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { PHOTOSENSITIVITY_HOURS } from '../../core/regimen/photosensitivity.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { inZone, notComingTwice } from '../../core/time/in-zone.ts';
import { inAfterCare, momentAt, ONE_EYE, opened, play, T0_AT_MS } from '../session-steps.ts';

describe('hours of light precautions', () => {
  test.each([
    ['us', null, 120, 'us'],
    ['eu', null, 48, 'eu'],
    ['eu', 120, 120, 'site'],
    ['us', 48, 120, 'us'],
    ['eu', 48, 48, 'eu'],
    ['eu', 24, 48, 'eu'],
  ] as const)('by the %s text, with %s set by the site, are %d', (profile, lightCareHours, hours, by) => {
    expect(lightCareHoursOf({ profile, lightCareHours })).toMatchObject({ hours, by });
  });

  test('are never fewer than those of the product text that the site follows', () => {
    const chosen = fc.record({
      profile: fc.constantFrom('us', 'eu'),
      lightCareHours: fc.option(fc.integer({ min: 24, max: 240 })),
    });
    fc.assert(
      fc.property(chosen, (settings) => {
        const { hours, productHours } = lightCareHoursOf(settings);
        expect(productHours).toBe(PHOTOSENSITIVITY_HOURS[settings.profile]);
        expect(hours).toBe(Math.max(productHours, settings.lightCareHours ?? 0));
        expect(tooShortSays(settings) !== null).toBe((settings.lightCareHours ?? 240) < productHours);
      }),
    );
  });

  test('that a site set too short are counted as the product text has them, and the screen says so', () => {
    const { context } = play(ONE_EYE, opened({ lightCareHours: 48 }));
    const view = viewOf(context, 1, momentAt(T0_AT_MS + 3_600_000));
    expect(view.lightCareUntilWallMs).toBe(momentAt(T0_AT_MS + 600_000).wallMs + 120 * 3_600_000);
    expect(view.cautions).toContain(
      'light precautions: this site set 48 h, fewer than the 120 h of the product text it follows; 120 h are counted',
    );
  });

  test('of a site that sets more are counted', () => {
    const { context } = play(ONE_EYE, opened({ lightCareHours: 168 }));
    const view = viewOf(context, 1, momentAt(T0_AT_MS + 3_600_000));
    expect(view.lightCareUntilWallMs).toBe(momentAt(T0_AT_MS + 600_000).wallMs + 168 * 3_600_000);
    expect(view.cautions).toEqual([]);
  });
});

describe('light precautions', () => {
  const { course } = inAfterCare().context;
  if (course === null) throw new Error('no drug was given');

  test('end a full minute after their hours are over, never a second before', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 7_200_000 }), (ranMs) => {
        const off = { ...course, infusion: { ...course.infusion, pumpOffAtMs: course.t0AtMs + ranMs } };
        const { fromWallMs, untilWallMs, hours } = lightCareOf(off, DEFAULT_SETTINGS, 0);
        expect(fromWallMs).toBe(course.t0WallMs + ranMs);
        expect(untilWallMs % 60_000).toBe(0);
        const laterMs = untilWallMs - (fromWallMs + hours * 3_600_000);
        expect(laterMs).toBeGreaterThanOrEqual(0);
        expect(laterMs).toBeLessThan(60_000);
      }),
    );
  });

  test('count from now while the pump still runs', () => {
    const running = { ...course, infusion: { ...course.infusion, pumpOffAtMs: null } };
    expect(lightCareOf(running, DEFAULT_SETTINGS, course.t0AtMs + 5000).fromWallMs).toBe(course.t0WallMs + 5000);
  });
});

/** Zones that change their clocks by an hour in both hemispheres, by half an hour, at midnight, in Ramadan, and never. */
const ZONES = [
  'Europe/Zurich',
  'Europe/London',
  'Europe/Dublin',
  'America/New_York',
  'America/Santiago',
  'America/Havana',
  'America/St_Johns',
  'Africa/Casablanca',
  'Africa/Cairo',
  'Asia/Beirut',
  'Asia/Kolkata',
  'Australia/Sydney',
  'Australia/Lord_Howe',
  'Pacific/Auckland',
  'Pacific/Chatham',
  'UTC',
] as const;

/** Whole minutes, most of them near a change of the clocks of that zone. */
const minutesIn = (zone: string): fc.Arbitrary<number> => {
  const changes: number[] = [];
  let at = Temporal.ZonedDateTime.from(`2026-01-01T00:00[${zone}]`);
  for (;;) {
    const next = at.getTimeZoneTransition('next');
    if (next === null || next.year > 2037) break;
    changes.push(next.epochMilliseconds);
    at = next;
  }
  const anywhere = fc.integer({ min: 29_500_000, max: 35_500_000 }).map((minute) => minute * 60_000);
  const near = changes.map((changeMs) =>
    fc.integer({ min: -300, max: 300 }).map((minute) => changeMs + minute * 60_000),
  );
  return fc.oneof(anywhere, ...near);
};

const ANYWHERE = fc.constantFrom(...ZONES).chain((zone) => minutesIn(zone).map((wallMs) => ({ zone, wallMs })));

const localOf = (wallMs: number, zone: string): Temporal.ZonedDateTime =>
  Temporal.Instant.fromEpochMilliseconds(wallMs).toZonedDateTimeISO(zone);

const readOff = ({ date, time }: { date: string; time: string }, zone: string, which: 'earlier' | 'later'): number =>
  Temporal.PlainDateTime.from(`${date}T${time}`).toZonedDateTime(zone, { disambiguation: which }).epochMilliseconds;

describe('local date and time', () => {
  test('are those that the clocks of the zone show, across every change of them', () => {
    fc.assert(
      fc.property(ANYWHERE, ({ zone, wallMs }) => {
        const local = localOf(wallMs, zone);
        expect(inZone(wallMs, zone)).toEqual({
          date: local.toPlainDate().toString(),
          time: local.toPlainTime().toString({ smallestUnit: 'minute' }),
        });
      }),
      { numRuns: 400 },
    );
  });

  test('hours that elapse are added to the instant, not to the time on the clock', () => {
    fc.assert(
      fc.property(ANYWHERE, fc.integer({ min: 24, max: 240 }), ({ zone, wallMs }, hours) => {
        const later = localOf(wallMs, zone).add({ hours });
        expect(inZone(wallMs + hours * 3_600_000, zone)).toEqual({
          date: later.toPlainDate().toString(),
          time: later.toPlainTime().toString({ smallestUnit: 'minute' }),
        });
      }),
      { numRuns: 400 },
    );
  });

  test('over a change of the clocks, 120 h end at another time of day than they began', () => {
    const fromWallMs = Date.UTC(2027, 2, 26, 9, 20);
    expect(inZone(fromWallMs, 'Europe/Zurich')).toEqual({ date: '2027-03-26', time: '10:20' });
    expect(inZone(fromWallMs + 120 * 3_600_000, 'Europe/Zurich')).toEqual({ date: '2027-03-31', time: '11:20' });
  });
});

describe('a time that is told on paper', () => {
  test('is not before the instant, however it is read, and is the instant itself where it comes once', () => {
    fc.assert(
      fc.property(ANYWHERE, ({ zone, wallMs }) => {
        const toldMs = notComingTwice(wallMs, zone);
        const told = inZone(toldMs, zone);
        expect(readOff(told, zone, 'earlier')).toBeGreaterThanOrEqual(wallMs);
        expect(readOff(told, zone, 'earlier')).toBe(toldMs);
        const before = inZone(wallMs, zone);
        const comesOnce = readOff(before, zone, 'earlier') === wallMs;
        expect(toldMs === wallMs).toBe(comesOnce);
        expect(toldMs - wallMs).toBeLessThanOrEqual(3_600_000);
      }),
      { numRuns: 400 },
    );
  });

  test('in the hour that comes a second time, is the end of that hour', () => {
    const second = Date.UTC(2031, 9, 26, 1, 30);
    expect(inZone(second, 'Europe/Zurich').time).toBe('02:30');
    expect(inZone(notComingTwice(second, 'Europe/Zurich'), 'Europe/Zurich')).toEqual({
      date: '2031-10-26',
      time: '03:00',
    });
  });
});
