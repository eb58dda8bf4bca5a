import { expect, test } from 'vitest';
import { isZone } from '../../core/time/zone.ts';

test.each(['Europe/Zurich', 'America/New_York', 'UTC', 'Asia/Kathmandu'])('%s is a zone', (name) => {
  expect(isZone(name)).toBe(true);
});

test.each(['', 'Zurich', 'Europe/Nowhere', 'here', '5'])('%j is none', (name) => {
  expect(isZone(name)).toBe(false);
});
