import type { Source } from '../regimen/source.ts';

/** One sentence that may stand on a patient's sheet or bracelet: what is filled into it, and where what it says is from. */
interface Sentence {
  readonly holds: readonly string[];
  /** Null where it says nothing of the trade. */
  readonly source: Source | null;
}

const US: Source = { text: 'US patient information on verteporfin', sure: 'found' };
const BOTH: Source = { text: 'US patient information on verteporfin; EU-SmPC', sure: 'found' };
const COMMON: Source = { text: 'common practice, no source', sure: 'local' };

/**
 * Every sentence, in the order of the sheet. Its words stand once in each language, whole: none is put together from
 * parts. Each `holds` is a name in braces in the words.
 */
export const SENTENCES = {
  title: { holds: [], source: null },
  practice: { holds: [], source: null },
  patient: { holds: ['code', 'born'], source: null },

  'given-title': { holds: [], source: null },
  given: { holds: ['day', 'time'], source: null },
  'light-right': { holds: [], source: null },
  'light-left': { holds: [], source: null },
  'light-both': { holds: [], source: null },
  'light-none': {
    holds: [],
    source: { text: 'the light precautions follow from the drug, not from the light', sure: 'computed' },
  },

  'until-title': { holds: [], source: null },
  until: { holds: ['day', 'time'], source: null },
  hours: { holds: ['hours'], source: BOTH },

  'avoid-title': { holds: [], source: null },
  sun: { holds: [], source: BOTH },
  lamps: { holds: [], source: BOTH },
  'clinic-lamps': { holds: [], source: BOTH },
  oximeter: { holds: [], source: BOTH },

  'outside-title': { holds: [], source: null },
  cover: {
    holds: [],
    source: {
      text: 'clothing and dark sunglasses: US patient information; EU-SmPC. Hat, gloves, sleeves: common practice, no source',
      sure: 'found',
    },
  },
  'sun-cream': { holds: [], source: BOTH },

  'indoors-title': { holds: [], source: BOTH },
  indoors: { holds: [], source: BOTH },

  'also-title': { holds: [], source: null },
  wristband: { holds: [], source: US },
  driving: { holds: [], source: BOTH },

  'surgery-title': { holds: [], source: null },
  surgery: {
    holds: [],
    source: {
      text: 'US prescribing information, within 48 h; until the end of the precautions: local practice',
      sure: 'found',
    },
  },

  'call-title': { holds: [], source: null },
  'call-sight': {
    holds: [],
    source: {
      text: 'severe loss of sight within a week: US prescribing information; EU-SmPC. That the clinic is called: common practice, no source',
      sure: 'found',
    },
  },
  'call-vein': {
    holds: [],
    source: {
      text: 'extravasation: US prescribing information. That the clinic is called: common practice, no source',
      sure: 'found',
    },
  },
  'call-skin': { holds: [], source: COMMON },
  'call-emergency': {
    holds: [],
    source: {
      text: 'chest pain, fainting, breathlessness, rash: US prescribing information. The emergency number: common practice, no source',
      sure: 'found',
    },
  },
  phone: { holds: [], source: null },

  'review-title': { holds: [], source: null },
  review: { holds: ['day'], source: null },
  'review-open': { holds: [], source: null },

  'doctor-first': { holds: [], source: null },
  'hours-us': { holds: ['hours'], source: { text: 'US prescribing information: 5 days', sure: 'found' } },
  'hours-eu': { holds: ['hours'], source: { text: 'EU-SmPC: 48 hours', sure: 'found' } },
  'hours-site': { holds: ['hours', 'productHours'], source: { text: 'setting of the site', sure: 'local' } },

  'band-title': { holds: [], source: US },
  'band-phone': { holds: [], source: null },
} as const satisfies Record<string, Sentence>;

export type SentenceId = keyof typeof SENTENCES;

/** A language's words: a file that lacks a sentence does not compile. */
export type AfterCareWords = Readonly<Record<SentenceId, string>>;

/** What has to be filled into a sentence. */
export type Filling<Id extends SentenceId> = Readonly<Record<(typeof SENTENCES)[Id]['holds'][number], string>>;
