import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { AFTER_CARE_WORDS } from '../../core/after-care/say.ts';
import type { CommandOf } from '../../core/procedure/commands.ts';
import type { SessionRecord } from '../../core/procedure/record.ts';
import { afterCareSheet, type Reader } from '../../core/report/after-care-sheet.ts';
import { bracelet } from '../../core/report/bracelet.ts';
import { NotYet, type Sheet } from '../../core/report/sheet.ts';
import { LANGUAGES } from '../../core/settings/language.ts';
import { pdfOf } from '../../electron/station/pdf.ts';
import {
  after,
  beamOn,
  discharged,
  flushing,
  give,
  held,
  inAfterCare,
  infusing,
  instead,
  opened,
  play,
  primed,
  stepsBefore,
  stopped,
  T0_AT_MS,
  TWO_EYES,
} from '../session-steps.ts';
import { fontsIn, lettersIn, pagesIn, plain, saidBy } from './read-pdf.ts';

const ZURICH: Reader = { language: 'en', largePrint: false, zone: 'Europe/Zurich' };
const SHEETS = [
  ['the after-care sheet', afterCareSheet],
  ['the bracelet', bracelet],
] as const;
const READERS = LANGUAGES.flatMap((language) =>
  [false, true].map((largePrint) => ({ ...ZURICH, language, largePrint })),
);

const minutes = (n: number): number => T0_AT_MS + n * 60_000;
const textsOf = ({ blocks }: Sheet): string[] =>
  blocks.flatMap((block) => (block.kind === 'rows' ? [] : block.kind === 'list' ? block.items : [block.text]));
const bigOf = (sheet: Sheet): string[] => sheet.blocks.flatMap((block) => (block.kind === 'big' ? [block.text] : []));

describe.each(READERS)('on paper, in $language, large print $largePrint', (reader) => {
  const sheet = afterCareSheet(inAfterCare().context, reader);
  let pdf: Buffer;
  beforeAll(async () => {
    pdf = await pdfOf(sheet);
  });

  test('the sheet says what it was made of, each page with whose it is at its foot', async () => {
    const pages = await pagesIn(pdf);
    const bodies = pages.map((page, index) => {
      const foot = `${plain(sheet.foot ?? '')} · ${index + 1}/${pages.length}`;
      expect(page.endsWith(foot)).toBe(true);
      return page.slice(0, -foot.length).trim();
    });
    expect(bodies.join(' ')).toBe(saidBy(sheet));
  });

  test(`the sheet is ${reader.largePrint ? 'three pages at most' : 'one page'}`, async () => {
    expect((await pagesIn(pdf)).length).toBeLessThanOrEqual(reader.largePrint ? 3 : 1);
  });

  test('nothing stands beyond the edge of the paper', async () => {
    expect((await lettersIn(pdf)).filter(({ within }) => !within)).toEqual([]);
  });

  test('it carries its own type', () => {
    const { names, described, carried } = fontsIn(pdf);
    expect(names.length).toBeGreaterThan(0);
    for (const name of names) expect(name).toMatch(/^[A-Z]{6}\+B612/);
    expect(carried).toBe(described);
  });

  test('it names its language to what reads it aloud', () => {
    expect(pdf.toString('latin1')).toContain(`/Lang (${reader.language})`);
  });

  test('its words are 18 points and more in large print, 10 else, but for the foot', async () => {
    const leastPt = reader.largePrint ? 18 : 10;
    const small = (await lettersIn(pdf)).filter(({ sizePt }) => sizePt < leastPt).map(({ text }) => plain(text));
    const foot = plain(sheet.foot ?? '');
    expect(foot).toContain('K-2041');
    expect(small).toEqual(small.map((_text, index) => `${foot} · ${index + 1}/${small.length}`));
  });
});

describe.each(SHEETS)('%s', (_name, sheetOf) => {
  test.each([
    ['while it is planned', opened().context],
    ['before the pump', primed().context],
    ['while the pump runs', infusing().context],
    ['while the infusion is held', held().context],
    ['where all was stopped before any drug', stopped(primed(), T0_AT_MS - 10_000).context],
  ])('%s is not printed, and says when it is', (_what, record) => {
    expect(() => sheetOf(record, ZURICH)).toThrow(NotYet);
    expect(() => sheetOf(record, ZURICH)).toThrow('is printed once the pump is off: the hours count from there');
  });

  test.each([
    ['from the flush on', flushing().context, '10:20'],
    ['after discharge', discharged().context, '10:20'],
    ['where it was stopped in the fourth minute', stopped(infusing(), minutes(4)).context, '10:14'],
    ['where it was stopped while held', stopped(held(), minutes(5)).context, '10:15'],
    ['where it was stopped in the light', stopped(beamOn(), minutes(15) + 20_000).context, '10:20'],
  ])('%s is printed, with the hours counted from the pump’s end', (_what, record, time) => {
    expect(bigOf(sheetOf(record, { ...ZURICH, language: 'de' }))).toEqual([`Samstag, 8. März 2031, ${time} Uhr`]);
  });

  test('has the local time of the day on which the hours end, after clocks were changed', () => {
    const spring = wallShifted(inAfterCare().context, Date.UTC(2031, 2, 27, 9, 10));
    expect(bigOf(sheetOf(spring, { ...ZURICH, language: 'fr' }))).toEqual(['mardi 1er avril 2031, à 11:20']);
    expect(bigOf(sheetOf(spring, { ...ZURICH, language: 'fr', zone: 'UTC' }))).toEqual([
      'mardi 1er avril 2031, à 09:20',
    ]);
    const autumn = wallShifted(inAfterCare().context, Date.UTC(2031, 9, 23, 9, 10));
    expect(bigOf(sheetOf(autumn, { ...ZURICH, language: 'es' }))).toEqual([
      'martes, 28 de octubre de 2031, a las 10:20 h',
    ]);
  });

  test('is marked in practice, in words and in its file’s name, and not otherwise', () => {
    const practice = play(stepsBefore('reactions'), opened({}, true)).context;
    for (const language of LANGUAGES) {
      const made = sheetOf(practice, { ...ZURICH, language });
      expect(made.fileName).toMatch(/^PRACTICE-[a-z-]+-(en|de|es|fr)-K-2041\.pdf$/);
      expect(saidBy(made)).toContain('PRACTICE');
      const real = sheetOf(inAfterCare().context, { ...ZURICH, language });
      expect(real.fileName).not.toContain('PRACTICE');
      expect(saidBy(real)).not.toContain('PRACTICE');
    }
  });

  test('says nothing but whole sentences of its language, filled in', () => {
    for (const language of LANGUAGES) {
      const sentences = Object.values(AFTER_CARE_WORDS[language]).map(pattern);
      const made = sheetOf(inAfterCare(TWO_EYES).context, { ...ZURICH, language });
      for (const text of textsOf(made).filter((one) => one !== 'K-2041')) {
        expect(sentences.filter((sentence) => sentence.test(text)).length, text).toBeGreaterThan(0);
      }
    }
  });

  test('never has on it anybody the ledger names beside the patient’s code: no initials, no physician', () => {
    const physician = 'Q. Ordering-Physician';
    const ordered = stepsBefore('discharge').map((step) =>
      step.name === 'order'
        ? { ...step, command: { ...step.command, orderedBy: physician } as CommandOf<'order'> }
        : step,
    );
    const { context } = play(ordered);
    expect(context.order?.orderedBy).toBe(physician);
    for (const reader of READERS) {
      const said = `${saidBy(sheetOf(context, reader))} ${sheetOf(context, reader).foot}`;
      expect(said).not.toMatch(/\b(MO|TK|RV)\b|Physician/);
    }
  });

  test('names a file that any disk takes, whatever the code', () => {
    const codes = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9-]{1,23}$/);
    fc.assert(
      fc.property(codes, fc.constantFrom(...READERS), (patientCode, reader) => {
        const { context } = inAfterCare();
        const coded = { ...context, patient: context.patient && { ...context.patient, patientCode } };
        expect(sheetOf(coded, reader).fileName).toMatch(/^[A-Za-z0-9-]{1,60}\.pdf$/);
      }),
      { numRuns: 50 },
    );
  });

  test('names nobody where the record has no patient', () => {
    const { context } = inAfterCare();
    const made = sheetOf({ ...context, patient: null }, ZURICH);
    expect(saidBy(made)).not.toContain('K-2041');
    expect(saidBy(made)).not.toMatch(/undefined|null|\{/);
    expect(made.fileName).toContain('no-patient');
  });
});

describe('the after-care sheet', () => {
  const said = (record: SessionRecord, reader = ZURICH): string => saidBy(afterCareSheet(record, reader));

  test('says for whom, what was given and when it ended', () => {
    const words = said(discharged().context);
    expect(words).toContain('K-2041, born 2 March 1951');
    expect(words).toContain('The drip ended on Monday, 3 March 2031 at 10:20 am.');
    expect(words).toContain('That is 120 hours after the drip ended.');
  });

  test.each([
    ['right', inAfterCare().context, 'shone into your right eye'],
    ['both', inAfterCare(TWO_EYES).context, 'shone into both of your eyes'],
    [
      'only the first of two',
      stopped(after('beam-off:right', TWO_EYES), minutes(18)).context,
      'shone into your right eye',
    ],
    ['begun and not ended', stopped(beamOn(), minutes(15) + 20_000).context, 'shone into your right eye'],
    ['none', stopped(infusing(), minutes(4)).context, 'No treatment light was shone into your eye.'],
  ])('tells of the light that was given: %s', (_eyes, record, words) => {
    expect(said(record)).toContain(words);
    expect(said(record).match(/shone into/g)).toHaveLength(1);
  });

  test('has the day of the review once it is agreed, and until then a line for it', () => {
    const reviewed = play(instead('review', { kind: 'review', reviewDate: '2031-06-02' })).context;
    expect(said(reviewed)).toContain('Your next check is on Monday, 2 June 2031.');
    const open = afterCareSheet(inAfterCare().context, ZURICH);
    expect(open.blocks).toContainEqual({ kind: 'to fill in', text: 'Your next check is on:' });
  });

  test('has a line for the clinic’s telephone number, in every language', () => {
    for (const language of LANGUAGES) {
      const { blocks } = afterCareSheet(inAfterCare().context, { ...ZURICH, language });
      expect(blocks).toContainEqual({ kind: 'to fill in', text: AFTER_CARE_WORDS[language].phone });
    }
  });

  test.each([
    ['us', null, 'The 120 hours are from the US prescribing information for verteporfin.'],
    ['eu', null, 'The 48 hours are from the European product information for verteporfin.'],
    ['eu', 72, 'The 72 hours are the rule of this clinic. The product information asks for 48 hours.'],
  ] as const)(
    'by the %s text, with %s h set by the site, says whose hours they are',
    (profile, lightCareHours, words) => {
      const record = { ...inAfterCare().context };
      expect(said({ ...record, settings: { ...record.settings, profile, lightCareHours } })).toContain(words);
    },
  );

  test('has the pump’s end as it was, where the start was set back', () => {
    const setBack = give(infusing(), { kind: 'set-back', agoS: 60 }, minutes(1));
    const record = stopped(setBack, minutes(6)).context;
    expect(said(record)).toContain('The drip ended on Monday, 3 March 2031 at 10:16 am.');
  });
});

describe('the bracelet', () => {
  const record = play(stepsBefore('discharge')).context;

  test.each(LANGUAGES)('in %s is one label with drug, date and time, code and a line to write on', async (language) => {
    const sheet = bracelet(record, { ...ZURICH, language });
    const pdf = await pdfOf(sheet);
    const pages = await pagesIn(pdf);
    expect(pages).toEqual([saidBy(sheet)]);
    expect(pages[0]).toMatch(/^Vert[eé]porfin/);
    expect(pages[0]).toContain('K-2041');
    const { described, carried } = fontsIn(pdf);
    expect(carried).toBe(described);
  });

  test('has the code alone of the patient: no date of birth', () => {
    for (const reader of READERS) {
      expect(saidBy(bracelet(record, reader))).not.toMatch(/1951/);
      expect(bracelet(record, reader).foot).toBeUndefined();
    }
  });

  test('is one label with the longest of everything, in practice', async () => {
    const { context } = play(stepsBefore('discharge'), opened({}, true));
    const patient = context.patient && { ...context.patient, patientCode: 'W'.repeat(24) };
    const late = wallShifted({ ...context, patient }, Date.UTC(2031, 8, 19, 12, 10));
    for (const language of LANGUAGES) {
      const sheet = bracelet(late, { ...ZURICH, language });
      const pdf = await pdfOf(sheet);
      expect(await pagesIn(pdf)).toEqual([saidBy(sheet)]);
      expect((await lettersIn(pdf)).filter(({ within }) => !within)).toEqual([]);
    }
  });
});

/** The same session, its pump started at another wall time. */
function wallShifted(record: SessionRecord, t0WallMs: number): SessionRecord {
  return { ...record, course: record.course && { ...record.course, t0WallMs } };
}

/** A sentence as a pattern: anything where something is filled in. */
const pattern = (words: string): RegExp =>
  new RegExp(
    `^${words
      .split(/\{\w+\}/)
      .map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'))
      .join('.+')}$`,
    'u',
  );
