import { extractText, getDocumentProxy } from 'unpdf';
import { beforeAll, describe, expect, test } from 'vitest';
import { deviationsOf } from '../../core/ledger/deviations.ts';
import { figureOf, figureRows } from '../../core/ledger/figure.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { wordsFor } from '../../core/ledger/words.ts';
import type { Extract } from '../../core/report/extract.ts';
import { recordSheet } from '../../core/report/record/record-sheet.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { clockTime } from '../../core/time/show.ts';
import { recordPdf } from '../../electron/export/pdf/record-pdf.ts';
import { atOf, NURSE, ONE_EYE, type Step, stepsBefore, TWO_EYES } from '../session-steps.ts';
import { extractOfSteps } from './ledger-of.ts';

const bytesOf = (extract: Extract): Promise<Uint8Array> => recordPdf(recordSheet(extract, DEFAULT_LIMITS));

/** What a reader finds on each page: its words, spaces made one, and the two signs for micro. */
async function pagesOf(extract: Extract): Promise<string[]> {
  const { text } = await extractText(await getDocumentProxy(new Uint8Array(await bytesOf(extract))));
  return text.map((page) => page.replaceAll('\u03BC', 'µ').replace(/\s+/g, ' '));
}

const squeezed = (text: string): string => text.replace(/\s+/g, '');

const noted = (words: string, n = 1): Step[] => [
  ...stepsBefore('prepare'),
  ...Array.from({ length: n }, (_, index): Step => {
    const command = { kind: 'note', words: n === 1 ? words : `${words} ${index}.` } as const;
    return { name: 'note', atMs: atOf('prepare') - n + index, by: NURSE, command };
  }),
];

describe('the record of a session', () => {
  const extract = extractOfSteps(TWO_EYES);
  let pages: string[] = [];
  beforeAll(async () => {
    pages = await pagesOf(extract);
  });

  test('has every entry of the ledger, in order: place, time, author, words and hash', () => {
    const all = squeezed(pages.join(' '));
    let from = all.indexOf('entries');
    for (const entry of extract.entries) {
      const row = [
        String(entry.seq),
        clockTime(entry.wallMs, entry.offsetMin, true),
        entry.author.initials,
        wordsFor(entry),
      ];
      for (const said of [...row, entry.hash]) {
        const at = all.indexOf(squeezed(said), from);
        expect([entry.seq, said, at >= from]).toStrictEqual([entry.seq, said, true]);
      }
      from = all.indexOf(entry.hash, from) + 1;
    }
  });

  test('has the date and the offset of every entry, and how long after the pump’s start it was', () => {
    const all = pages.join(' ');
    expect(all.match(/2031-03-03 \+01:00/g)).toHaveLength(extract.entries.length);
    for (const said of ['−10:00.0', '+0:00.0', '+15:00.0']) expect(all).toContain(said);
  });

  test('has what departs from the plan, each with its limit and where that comes from', () => {
    const deviations = deviationsOf(measuresOf(extract.entries, extract.stationEntries), DEFAULT_LIMITS);
    expect(deviations.length).toBeGreaterThan(0);
    const all = squeezed(pages.join(' '));
    for (const { words } of deviations) expect(all).toContain(squeezed(words));
    expect(all).toContain('localpractice');
  });

  test('has the figure in words beside its drawing', () => {
    const all = squeezed(pages.join(' '));
    for (const { what, planned, actual, apart } of figureRows(figureOf(measuresOf(extract.entries)))) {
      expect(all).toContain(squeezed([what, planned, actual, apart].join('')));
    }
  });

  test('has the drawing itself, of which every shape is of a kind that is drawn', () => {
    const page = squeezed(pages[0] ?? '');
    const { figureSvg: whole } = recordSheet(extract, DEFAULT_LIMITS);
    const said = [...(whole ?? '').matchAll(/<text [^>]*>([^<]*)</g)].map(([, words]) => words ?? '');
    expect(said.length).toBeGreaterThan(20);
    for (const words of said) expect(page).toContain(squeezed(words));
    for (const steps of [ONE_EYE, TWO_EYES, stepsBefore('end-flush')]) {
      const { figureSvg } = recordSheet(extractOfSteps(steps), DEFAULT_LIMITS);
      const names = new Set([...(figureSvg ?? '').matchAll(/<([a-z]+)/gi)].map(([, name]) => name));
      const drawn = ['svg', 'title', 'desc', 'rect', 'path', 'circle', 'text'];
      expect([...names].filter((name) => !drawn.includes(name ?? ''))).toStrictEqual([]);
    }
  });

  test('has at the foot of every page whose it is, the anchor it was taken at, and which page it is', () => {
    expect(pages.length).toBeGreaterThan(1);
    pages.forEach((page, index) => {
      expect(page).toContain('session session-one · patient K-2041');
      expect(page).toContain(`anchor dimroom:${extract.fileId}:${extract.head.seq}:${extract.head.hash}`);
      expect(page).toContain('ledger verify FILE --anchor TEXT');
      expect(page).toContain(`page ${index + 1} of ${pages.length}`);
    });
  });

  test('has the cautions, and no word of practice', () => {
    const all = pages.join(' ');
    expect(all).toContain('Computed figures must be checked by a second qualified person');
    expect(all).toContain('computed from the time the pump ran and the flush, not measured');
    expect(all).not.toContain('PRACTICE');
  });

  test('carries its own type, is tagged, names its language, and has nothing that runs', async () => {
    const bytes = await bytesOf(extract);
    const pdf = Buffer.from(bytes).toString('latin1');
    const fonts = [...pdf.matchAll(/\/Type \/Font\b[^>]*?\/BaseFont \/([^\s/]+)/gs)].map(([, name]) => name);
    expect(fonts.length).toBeGreaterThan(0);
    for (const name of fonts) expect(name).toMatch(/^[A-Z]{6}\+B612/);
    const described = pdf.match(/\/Type \/FontDescriptor/g) ?? [];
    expect(pdf.match(/\/FontFile[23]? \d+ 0 R/g)).toHaveLength(described.length);
    for (const said of [
      '/Marked true',
      '/StructTreeRoot',
      '/Lang (en)',
      '<pdfaid:part>2</pdfaid:part>',
      '/OutputIntent',
    ]) {
      expect(pdf).toContain(said);
    }
    expect(pdf).not.toMatch(/\/JavaScript|\/JS\b|\/Launch|\/URI|\/EmbeddedFile|\/Encrypt/);
  });

  test('is the same, byte for byte, whenever it is printed', async () => {
    expect(Buffer.from(await bytesOf(extractOfSteps(TWO_EYES))).equals(await bytesOf(extract))).toBe(true);
  });
});

describe('a long session', () => {
  test('goes on over pages whose tables say their columns anew, and has each line once and whole', async () => {
    const extract = extractOfSteps(noted('the patient asks how long it takes, and is told', 150));
    const pages = await pagesOf(extract);
    expect(pages.length).toBeGreaterThan(4);
    const holding = pages.filter((page) => /\b[0-9a-f]{64}\b/.test(page.replace(/anchor \S+/, '')));
    expect(holding.length).toBeGreaterThan(3);
    for (const page of holding) expect(page).toContain('what, and SHA-256 of the entry');
    const lines = pages.flatMap((page) => page.match(/and is told \d+\. [0-9a-f]{64}/g) ?? []);
    expect(lines.map((line) => Number(/\d+/.exec(line)?.[0] ?? -1))).toStrictEqual(
      Array.from({ length: 150 }, (_, n) => n),
    );
    for (const [index, page] of pages.entries()) expect(page).toContain(`page ${index + 1} of ${pages.length}`);
  });

  test('has a line of the greatest length within its page', async () => {
    const words = 'Wide words that go on. '.repeat(21).trim();
    const pages = await pagesOf(extractOfSteps(noted(words)));
    expect(squeezed(pages.join(' '))).toContain(squeezed(words));
  });
});

describe('practice', () => {
  test('stands on every page, and on every line of every table', async () => {
    const extract = extractOfSteps(ONE_EYE, true);
    const sheet = recordSheet(extract, DEFAULT_LIMITS);
    const pages = await pagesOf(extract);
    for (const page of pages) expect(page).toContain('PRACTICE, not for a patient');
    const rows = sheet.entries.length + sheet.deviations.length + sheet.figure.length;
    const marks = pages.join(' ').match(/PRACTICE(?!, not|\. planned)/g) ?? [];
    expect(marks.length).toBeGreaterThanOrEqual(rows);
  });
});

describe('letters that the type lacks', () => {
  test('are given by their number, so that nothing people wrote is lost unseen', async () => {
    const pages = await pagesOf(extractOfSteps(noted('Ελ 漢 😀 \u0007 ß é ± “quoted” – … €')));
    const all = pages.join(' ');
    expect(all).toContain('[U+0395][U+03BB] [U+6F22] [U+1F600] [U+0007] ß é ± “quoted” – … €');
  });
});

describe('a session that is not whole', () => {
  test('is printed as far as it went, in every state', async () => {
    for (const name of ['identify', 'prepare', 'start-pump', 'begin-flush', 'beam-off:right', 'discharge']) {
      const extract = extractOfSteps(stepsBefore(name));
      const all = (await pagesOf(extract)).join(' ');
      for (const { hash } of extract.entries) expect(all).toContain(hash);
    }
  });

  test('is not printed while its order is withheld', () => {
    expect(() => recordSheet(extractOfSteps(stepsBefore('second-check')), DEFAULT_LIMITS)).toThrow(
      /is not exported yet/,
    );
  });

  test('says first what cannot be read, where the ledger is damaged', async () => {
    const whole = extractOfSteps(ONE_EYE);
    const lost = whole.entries.find(({ kind }) => kind === 'begin-flush')?.seq ?? 0;
    const entries = whole.entries.filter(({ seq }) => seq !== lost);
    const [page] = await pagesOf({ ...whole, entries, unreadable: [{ seq: lost, says: 'not JSON' }] });
    expect(page).toContain(`NOT SOUND: what is reckoned below is of the entries before ${lost} only: not JSON`);
  });
});
