import { ROLES } from '../../core/procedure/person.ts';

/** What screens put together of several places, or say in one word, as it comes out. */
export const COMPOSED: readonly string[] = [
  ...['done', 'now', 'to come', 'missing', 'ended', 'held', 'practice', 'next:'],
  ...['light window is open: light is due', 'light window is open: light overdue', 'held · light left'],
  ...['1 deviation · 1 note', '2 deviations · 2 notes', '12.5 of 50 J/cm²', '· 12.5 of 50 J/cm²'],
  ...ROLES.map((role) => `written 12:30:01 · MO, ${role}`),
  '3 min since the infusion began; infusion running; light window opens in 11 min 50 s; 0 of 1 eye treated',
  '16 min since the infusion began; infusion ended; light window open; 1 of 2 eyes treated',
  '3 min since the infusion began; infusion held; light window open; 1 of 2 eyes treated',
  ...['volume 5 of 5, the highest', 'volume 1 of 5, the lowest: it is never silent', '+ − volume 3 of 5'],
  'volume 3 of 5; nothing could be sounded: no sound device is connected: watch the counts',
  '12 s late: infusion at its end: pump off',
  'infusion at its end: pump off, since 0:12',
  'to the light window 3:12',
  '3:12 to the light window',
  'light window is open +0:12',
  'drug in use, 1:12 left',
  '12:30 MO · pump alarm, occlusion or stop: what was done is not told yet',
  '1 entry is not yet safe: the disk is full: make room',
  '2 entries are not yet safe since 12:30:01: the disk is full: make room · kept meanwhile in /var/log/a.b: nothing is lost if it stays there',
  '2 entries are not yet safe since 12:30:01: the disk does not take it (EIO): look at the disk; and /var/log does not take it either (EIO) · kept in memory only: do not switch this computer off',
  'infusing. light window open. no word from the station since 12:30:01: counting on by itself',
  'no word from the station since 12:30:01 · counting on by itself',
  'board on second monitor',
  'next: after-care',
];
