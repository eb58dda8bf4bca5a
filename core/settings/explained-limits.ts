import type { AnyExplanation, Explanation } from './explanation.ts';
import type { Limits } from './limits.ts';

const NO_TOLERANCE = { text: 'no published tolerance was found', sure: 'local' } as const;
const ANY = { text: 'any is read as a deviation until the site says otherwise', sure: 'local' } as const;

/** What each limit is for. Limits judge what happened when the ledger is read, and change nothing that is entered. */
export const EXPLAINED_LIMITS = {
  lightStartWithinS: {
    words: 'light start may be off by',
    group: 'limits',
    about:
      'Light begun earlier or later than its due instant by more than this is read as a deviation. The board says “light overdue” past it, by the figure the session was opened with.',
    source: NO_TOLERANCE,
    takes: 'at once',
    entry: { as: 'figure', unit: 's' },
  },
  infusionWithinS: {
    words: 'infusion may be off by',
    group: 'limits',
    about: 'The time that the pump ran, holds left out, against the planned time, either way.',
    source: NO_TOLERANCE,
    takes: 'at once',
    entry: { as: 'figure', unit: 's' },
  },
  flushWithinS: {
    words: 'flush may be off by',
    group: 'limits',
    about: 'The length of the flush against its planned time, either way.',
    source: NO_TOLERANCE,
    takes: 'at once',
    entry: { as: 'figure', unit: 's' },
  },
  exposureWithinShare: {
    words: 'light given may be off by',
    group: 'limits',
    about:
      'Light delivered against light ordered, as a share of the ordered. Nominal and exact seconds differ by 0.4 % already: 83 s at 600 mW/cm² give 49.8 J/cm².',
    source: { text: '49.8 of 50 J/cm² is 0.4 %; the rest is margin', sure: 'computed' },
    takes: 'at once',
    entry: { as: 'figure', unit: '%', percent: true },
  },
  holdMaxS: {
    words: 'a hold is no deviation up to',
    group: 'limits',
    about: 'A hold of the infusion longer than this is read as a deviation.',
    source: ANY,
    takes: 'at once',
    entry: { as: 'figure', unit: 's' },
  },
  latePressMaxS: {
    words: 'a late press is no deviation up to',
    group: 'limits',
    about: 'A press that was set back by more than this is read as a deviation.',
    source: ANY,
    takes: 'at once',
    entry: { as: 'figure', unit: 's' },
  },
  clockStepMaxS: {
    words: 'clock may step by',
    group: 'limits',
    about:
      'A step of the machine’s wall clock during a session by more than this is read as a deviation. Timers never count with that clock.',
    source: { text: 'for the site to decide', sure: 'local' },
    takes: 'at once',
    entry: { as: 'figure', unit: 's' },
  },
  cueLateMaxS: {
    words: 'cue may be late by',
    group: 'limits',
    about: 'A cue that sounded later than this is read as a deviation.',
    source: { text: 'for the site to decide', sure: 'local' },
    takes: 'at once',
    entry: { as: 'figure', unit: 's' },
  },
  inUseMaxMin: {
    words: 'drug in use at most',
    group: 'line',
    about:
      'From reconstitution to the end of the infusion; more is read as a deviation. The 4 h that guard the steps are not changed by this.',
    source: { text: 'EU package leaflet and PMC2274995, table 1: 4 h', sure: 'found' },
    takes: 'at once',
    entry: { as: 'figure', unit: 'min' },
  },
  leftInLineMaxMg: {
    words: 'drug that may stay in the line',
    group: 'line',
    about: 'Drug that the flush left in the line; more is read as a deviation.',
    source: ANY,
    takes: 'at once',
    entry: { as: 'figure', unit: 'mg' },
  },
} as const satisfies { readonly [Name in keyof Limits]: Explanation<Limits[Name]> } & Record<string, AnyExplanation>;
