import { describe, expect, test } from 'vitest';
import { FURTHER_KEYS, KEYS } from '../../core/keys/key-table.ts';
import { CUE_IDS, CUE_TABLE } from '../../core/procedure/cue-table.ts';
import { quickCard } from '../../core/report/quick-card.ts';
import { pdfOf } from '../../electron/station/pdf.ts';
import { fontsIn, lettersIn, pagesIn, saidBy } from './read-pdf.ts';

const card = quickCard({ wallMs: Date.UTC(2031, 2, 3, 9, 0), offsetMin: 60 });
const pages = await pagesIn(await pdfOf(card));
const [page = ''] = pages;

describe('the card for the wall', () => {
  test('is one page of A4, and says all that it was made of', () => {
    expect(pages).toHaveLength(1);
    expect(page).toBe(`${saidBy(card)} ${card.foot} · ${card.title} · page 1 of 1`);
  });

  test.each([...FURTHER_KEYS, ...KEYS].map((binding) => [binding.cap, binding] as const))(
    'has the key %s and what it does',
    (cap, { words, ...binding }) => {
      const more = 'more' in binding && binding.more !== undefined ? ` · ${binding.more}` : '';
      expect(page).toContain(`${cap} ${words}${more}`);
    },
  );

  test.each(CUE_IDS)('says what the sound of %s means, whose it is, and how often it comes again', (cue) => {
    const { words, answer, repeats } = CUE_TABLE[cue];
    const again = repeats === null ? '' : ` · again every ${repeats.everyMs / 1000} s`;
    expect(page).toContain(`${words} · for the ${answer.by}${again}`);
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
    ['drug 3.5 h', 'drug to be used within 30 min'],
    ['drug 4 h', 'drug has reached its 4 h in use'],
  ])('has the moment of the labelled regimen: at %s, %s', (when, words) => {
    expect(page).toContain(`${when} ${words}`);
  });

  test('begins with what to press when something is wrong', () => {
    expect(page).toMatch(
      /^Dimroom: the procedure clock at a glance when something is wrong T what to do.* H hold .* X stop early/,
    );
  });

  test('has its cautions, its sources and the day it was made', () => {
    for (const said of [
      'must be checked by a second qualified person',
      'The current product text, local policy and the order of the physician go before this card.',
      'not a certified medical device',
      'no alarms',
      'EU-SmPC: 6 mg/m2 in 30 mL over 10 min',
      '(found in the source named)',
      'made 2031-03-03',
    ]) {
      expect(page).toContain(said);
    }
  });

  test('carries its own type, stands within the paper, and is not set too small to be read at arm’s length', async () => {
    const pdf = await pdfOf(card);
    const { described, carried } = fontsIn(pdf);
    expect(carried).toBe(described);
    const letters = await lettersIn(pdf);
    expect(letters.filter(({ within }) => !within)).toEqual([]);
    expect(Math.min(...letters.map(({ sizePt }) => sizePt))).toBeGreaterThanOrEqual(7.5);
  });
});
