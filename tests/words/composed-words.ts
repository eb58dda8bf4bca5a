import { HOLD_REASONS } from '../../core/procedure/commands.ts';
import { ROLES } from '../../core/procedure/person.ts';
import { TROUBLE } from '../../core/procedure/trouble.ts';

/** Steps that go on with a reason, as the review names them. */
const STEPS_WITH_REASON = [
  ...['prepare', 'prime line', 'start pump', 'resume', 'begin flush', 'end flush', 'beam on', 'end light', 'discharge'],
];

/** The rooms' own words, and what they put together. */
const ROOM_WORDS = [
  ...[
    'people',
    'settings',
    'settings of its own',
    'allowed',
    'default',
    'source',
    'followed',
    'why',
    'leave',
    'leaves',
  ],
  ...['choose', 'entered', 'MO, nurse', 'the next one', 'the one before', 'ten further', 'ten back', 'the first'],
  ...['the last', 'Home', 'End', 'Page ↓', 'Page ↑', 'Ctrl V', 'US, in force', 'EU, in force'],
  'what follows from it, by US prescribing information; EU-SmPC',
  ...['by the settings screen', 'by a file, on the settings screen', 'by the start', 'by the settings file'],
  '2031-03-03 12:30:01 · MO, nurse · by the settings screen',
  ...['take 1 setting', 'take 3 settings', '1 setting taken from a.json', '3 settings taken from a.json'],
  ...['pasted text', '1 setting taken from pasted text', '3 settings taken from pasted text'],
  'a.json says what is in force already: nothing would change',
  'pasted text says what is in force already: nothing would change',
  ...['a.json is too long for a file of settings', 'pasted text is too long for a file of settings'],
  'the settings were changed by MO meanwhile: look, then change',
];

/** What screens put together of several places, or say in one word, as it comes out. */
export const COMPOSED: readonly string[] = [
  ...ROOM_WORDS,
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
  // The review of guided practice, by the ledger's rules.
  ...[...HOLD_REASONS, ...TROUBLE.map(({ id }) => id)].map(
    (reason) => `the infusion was held for 45.3 s at T0 + 2:10: ${reason}`,
  ),
  ...STEPS_WITH_REASON.map((step) => `${step}, although consent is not confirmed. Reason: the physician says so`),
  ...['pump on', 'beam on', 'beam off'].map((what) => `${what} was 45 s before the press that set it`),
  'the infusion ended 4 h 3 min after reconstitution',
  'the pump ran 11 min 5 s, 65 s longer than planned',
  'the flush was cut short: up to 0.55 mg stayed in the line, 0.10 mg in the syringe',
  'the flush was not begun: what the line held is not known, 0.10 mg in the syringe',
  'the left eye was begun 12 s after its limit, T0 + 20:00',
  'light began 1 min 5 s before its window opened, at T0 + 13:55',
  'right eye: 41 of 83 s of light given, 24.7 of 50.0 J/cm²',
  'stopped early, at T0 + 3:20: the patient asks to stop',
  'stopped early, before any drug: the patient asks to stop',
  'the pump ran 10 min 5 s, of 10 min planned, on a clock 6 times as fast',
  'the second person weighs the patient: the scale shows 64.9 kg: no drug was made up for another weight',
  'the second person weighs the patient: the scale shows 64.9 kg: the drug was made up for another weight. Next time: type the weight anew, and have the second person compute again',
  'the patient coughs, and the eye has moved: not answered. Next time: beam off at once: B, or T and the card of movement',
];
