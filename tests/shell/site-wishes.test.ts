import { expect, test } from 'vitest';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { hearWishes, type SiteWishes } from '../../electron/shell/site-wishes.ts';

const snapshot = (settings: object) => ({ type: 'snapshot', settings: { ...DEFAULT_SETTINGS, ...settings } });

test('a site’s wishes are told at the first snapshot, and again only when they change', () => {
  const told: SiteWishes[] = [];
  const hear = hearWishes((wishes) => told.push(wishes));
  for (const settings of [
    {},
    { kiosk: false },
    { kiosk: true },
    { kiosk: true },
    { kiosk: true, startAtLogin: true },
  ]) {
    hear(snapshot(settings));
  }
  expect(told).toEqual([
    { kiosk: false, startAtLogin: false },
    { kiosk: true, startAtLogin: false },
    { kiosk: true, startAtLogin: true },
  ]);
});

test('what is no snapshot changes nothing', () => {
  const told: SiteWishes[] = [];
  const hear = hearWishes((wishes) => told.push(wishes));
  for (const message of [null, 'snapshot', { type: 'entered' }, { type: 'snapshot' }, snapshot({ kiosk: 'yes' })])
    hear(message);
  expect(told).toEqual([]);
});
