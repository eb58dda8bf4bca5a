import { Temporal } from '@js-temporal/polyfill';
import { expect, test } from 'vitest';
import { inZone } from '../../core/time/in-zone.ts';

const READ_ELSEWHERE = ['Havana', 'New_York', 'Santiago', 'St_Johns'].map((place) => `America/${place}`);
const UNREAD = Intl.supportedValuesOf('timeZone').filter(
  (zone) => zone.startsWith('America/') && !READ_ELSEWHERE.includes(zone),
);
let reads = 0;

/** Another one each time it runs: the clock of a zone is made once in a process, when it is first read. */
const unreadZone = (): string => UNREAD[reads++ % UNREAD.length] ?? 'none';

test('a zone that was not read before is read right the first time, and so again', () => {
  const zone = unreadZone();
  for (let hour = 0; hour < 24 * 366; hour += 265) {
    const wallMs = Date.UTC(2031, 0, 1, hour, 7);
    const local = Temporal.Instant.fromEpochMilliseconds(wallMs).toZonedDateTimeISO(zone);
    const shown = {
      date: local.toPlainDate().toString(),
      time: local.toPlainTime().toString({ smallestUnit: 'minute' }),
    };
    expect(inZone(wallMs, zone)).toEqual(shown);
    expect(inZone(wallMs, zone)).toEqual(shown);
  }
});

test('a zone that there is not is refused, with its name', () => {
  expect(() => inZone(0, 'Europe/Nowhere')).toThrow(/Europe\/Nowhere/);
});
