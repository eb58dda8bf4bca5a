import PDFDocument from 'pdfkit';
import { beforeAll, describe, expect, test } from 'vitest';
import de from '../../assets/words/de.json';
import es from '../../assets/words/es.json';
import fr from '../../assets/words/fr.json';
import { DOSE_CAUTION } from '../../core/dosing/plan.ts';
import { FURTHER_KEYS, KEYS } from '../../core/keys/key-table.ts';
import { CUE_IDS, CUE_TABLE } from '../../core/procedure/cue-table.ts';
import { quickCard } from '../../core/report/quick-card.ts';
import { type Sheet, withTexts } from '../../core/report/sheet.ts';
import { LANGUAGES, type Language } from '../../core/settings/language.ts';
import { type Catalog, phrasebook } from '../../core/words/phrasebook.ts';
import { fontFile, pdfOf } from '../../electron/station/pdf.ts';
import { PAPERS } from '../../electron/station/printing/papers.ts';
import { quickCardIn } from '../../electron/station/printing/quick-card-in.ts';
import { hasPoppler, printedText, type WordBox, wordBoxes } from './poppler.ts';
import { fontsIn, lettersIn, pagesIn, plain, saidBy } from './read-pdf.ts';

const MADE = { wallMs: Date.UTC(2031, 2, 3, 9, 0), offsetMin: 60 };
const CATALOGS: Readonly<Record<Exclude<Language, 'en'>, Catalog>> = { de, es, fr };

/** A sentence as the catalog has it, looked up and not found by rules; one of two parts by its parts. */
function inWords(language: Language, english: string): string {
  if (language === 'en') return english;
  const whole = CATALOGS[language][english];
  if (whole !== undefined) return plain(whole);
  const [topic, words] = english.split(': ');
  if (topic === undefined || words === undefined) throw new Error(`${language} lacks "${english}"`);
  const joined = inWords(language, '{topic}: {words}');
  return joined.replace('{topic}', inWords(language, topic)).replace('{words}', inWords(language, words));
}

describe.each(LANGUAGES)('the card for the wall, in %s', (language) => {
  const words = (english: string): string => inWords(language, english);
  /** Caps that are a sign, a letter or figures are in no catalog. */
  const capOf = (cap: string): string => (/\p{L}{2}/u.test(cap) ? words(cap) : cap);
  let card: Sheet;
  let pdf: Buffer;
  let pages: string[];
  let page: string;
  beforeAll(async () => {
    card = await quickCardIn(language, MADE);
    pdf = await pdfOf(card);
    pages = await pagesIn(pdf);
    page = pages[0] ?? '';
  });

  test('is one page of A4, and says all that it was made of, in letters that the type has', () => {
    expect(pages).toHaveLength(1);
    const where = language === 'en' ? `${card.title} · page 1 of 1` : '1/1';
    expect(page).toBe(`${saidBy(card)} ${plain(card.foot ?? '')} · ${where}`);
    // What the type has no letter for is found again as this one.
    expect(page).not.toContain('\0');
  });

  test.each([...FURTHER_KEYS, ...KEYS].map((binding) => [binding.cap, binding] as const))(
    'has the key %s and what it does',
    (cap, binding) => {
      const more = 'more' in binding && binding.more !== undefined ? ` · ${words(binding.more)}` : '';
      expect(page).toContain(`${capOf(cap)} ${words(binding.words)}${more}`);
    },
  );

  test.each(CUE_IDS)('says what the sound of %s means, and whose it is', (cue) => {
    const { answer } = CUE_TABLE[cue];
    expect(page).toContain(`${words(CUE_TABLE[cue].words)} · ${words(`for the ${answer.by}`)}`);
  });

  test('has its cautions and its sources', () => {
    for (const caution of [
      DOSE_CAUTION,
      'The current product text, local policy and the order of the physician go before this card.',
      'The light counts from the START of the infusion. A hold does not move it.',
      'Dextrose 5 % only, in syringe, line and flush: sodium chloride precipitates the drug.',
      'The sounds are no alarms: they are no substitute for watching the patient, the pump and the laser.',
      'This clock is not a certified medical device.',
    ]) {
      expect(page).toContain(`• ${words(caution)}`);
    }
    const source = 'EU-SmPC: 6 mg/m2 in 30 mL over 10 min, light 15 min after the start of the infusion';
    expect(page).toContain(`${words(source)} · ${words('found in the source named')}`);
  });

  test('carries its own type, and is not set too small to be read at arm’s length', async () => {
    const { described, carried } = fontsIn(pdf);
    expect(carried).toBe(described);
    const letters = await lettersIn(pdf);
    expect(letters.filter(({ within }) => !within)).toEqual([]);
    expect(Math.min(...letters.map(({ sizePt }) => sizePt))).toBeGreaterThanOrEqual(7.5);
  });

  test('has room for each key and each moment beside what it means', () => {
    expect(tooWide(card)).toEqual([]);
  });

  test.runIf(hasPoppler)('is read by another reader as it was made', () => {
    const text = printedText(pdf).replace(/(?<=\p{L}-) (?=\p{L})/gu, '');
    expect(text.startsWith(saidBy(card))).toBe(true);
  });

  test.runIf(hasPoppler)('stands in its columns: no word over another, or over an edge', () => {
    const boxes = wordBoxes(pdf);
    expect(boxes.length).toBeGreaterThan(500);
    expect(boxes.filter((box) => !isInAColumn(box))).toEqual([]);
    expect(pairsOf(boxes).filter(([one, other]) => overlap(one, other))).toEqual([]);
  });
});

const { size, marginPt, labelWidthPt, textPt } = PAPERS.wall;
const [widthPt, heightPt] = size;
/** A hair: boxes are rounded. */
const HAIR_PT = 0.5;

/** Within one half of the page; the title at its head and the foot alone go over both. */
function isInAColumn({ left, right, top, bottom }: WordBox): boolean {
  if (left < marginPt - HAIR_PT || right > widthPt - marginPt + HAIR_PT || top < 0 || bottom > heightPt) return false;
  const overBoth = bottom < marginPt * 2.5 || top > heightPt - marginPt;
  return overBoth || right < widthPt / 2 || left > widthPt / 2;
}

const pairsOf = (boxes: readonly WordBox[]): (readonly [WordBox, WordBox])[] =>
  boxes.flatMap((one, index) => boxes.slice(index + 1).map((other) => [one, other] as const));

/** Boxes are as high as a line: those of two lines touch. */
const overlap = (one: WordBox, other: WordBox): boolean =>
  Math.min(one.right, other.right) - Math.max(one.left, other.left) > HAIR_PT &&
  Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) > 2 * HAIR_PT;

/** What stands in the left half of a row and is wider than it has room for, with a space after it. */
function tooWide({ blocks }: Sheet): string[] {
  const doc = new PDFDocument().font(fontFile(700)).fontSize(textPt);
  const labels = blocks.flatMap((block) => (block.kind === 'rows' ? block.rows.map(([label]) => label) : []));
  return labels.filter((label) => doc.widthOfString(`${label} `) > labelWidthPt);
}

describe('the card for the wall', () => {
  const card = quickCard(MADE);
  const said = saidBy(card);

  test.each(Object.entries(CATALOGS))('has no sentence that %s lacks', (language, catalog) => {
    const find = phrasebook(catalog, language as Language);
    const lacking: string[] = [];
    withTexts(card, (text) => {
      if (find(text) === null) lacking.push(text);
      return text;
    });
    expect(lacking).toEqual([]);
  });

  test.each(CUE_IDS.filter((cue) => CUE_TABLE[cue].repeats !== null))('says how often %s comes again', (cue) => {
    const { words, answer, repeats } = CUE_TABLE[cue];
    expect(said).toContain(`${words} · for the ${answer.by} · again every ${(repeats?.everyMs ?? 0) / 1000} s`);
  });

  test.each([
    ['0:00', 'pump on'],
    ['10:00', 'infusion at its end: pump off'],
    ['11:00', 'flush has run its time'],
    ['13:00', 'light window in 2 min'],
    ['14:00', 'light window in 1 min'],
    ['15:00', 'light window is open'],
    ['16:23', 'light at its end'],
    ['19:00', 'second eye to begin within 1 min'],
    ['20:00', 'last moment to begin the second eye'],
    ['3.5 h', 'drug to be used within 30 min'],
    ['4 h', 'drug has reached its 4 h in use'],
  ])('has the moment of the labelled regimen: at %s, %s', (when, words) => {
    expect(said).toContain(`${when} ${words}`);
  });

  test('has the moments in the order in which they come, and what counts from the drug after them', () => {
    const moments = [...said.matchAll(/(?<= )(\d+):(\d\d) (?=\p{L})/gu)].map(
      ([, min, s]) => Number(min) * 60 + Number(s),
    );
    expect(moments).toEqual([...moments].sort((one, other) => one - other));
    expect(said.indexOf('from the reconstitution of the drug')).toBeGreaterThan(said.indexOf('20:00'));
    expect(said).toMatch(/from the reconstitution of the drug 3\.5 h .* 4 h drug has reached/);
  });

  test('begins with what to press when something is wrong', () => {
    expect(said).toMatch(
      /^Dimroom: the procedure clock at a glance when something is wrong T what to do.* H hold .* X stop early/,
    );
  });

  test('says the day it was made, as each language writes it', async () => {
    expect(card.foot).toBe('made 2031-03-03: print it anew after an update');
    expect((await quickCardIn('de', MADE)).foot).toBe('erstellt am 03.03.2031: nach einer Aktualisierung neu drucken');
    expect((await quickCardIn('fr', MADE)).foot).toContain('03/03/2031');
  });

  test('parts no figure from its unit, and begins no line with a point', async () => {
    const { blocks } = await quickCardIn('de', MADE);
    const texts = blocks.flatMap((block) =>
      block.kind === 'rows' ? block.rows.flat() : 'text' in block ? block.text : [],
    );
    expect(texts.some((text) => text.includes('alle\u00a015\u00a0s') || text.includes('15\u00a0s'))).toBe(true);
    expect(texts.filter((text) => / ·|\d (?:s|min|h|mL)\b/.test(text))).toEqual([]);
  });
});
