import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { type FindFilter, findFilterSchema } from '../../core/ledger/find-filter.ts';
import { type Folded, foldedSessions, lookedThrough } from './folded.ts';
import { allOf, finderOf, generatedLedger, pageOf } from './generated-ledger.ts';

const ledger = generatedLedger(300, 11);
let folded: Folded[] = [];
beforeAll(() => {
  folded = foldedSessions(ledger.file);
});

const DAY_MS = 86_400_000;
const BEFORE_MS = [0, 1, DAY_MS, 20 * DAY_MS];

/** What to ask for so that a session answers; `some` decides where there is more than one way to ask. */
const ASKED: Readonly<Record<keyof FindFilter, (session: Folded, some: number) => unknown>> = {
  fromWallMs: ({ openedWallMs }, some) => openedWallMs - (BEFORE_MS[some % 4] ?? 0),
  toWallMs: ({ openedWallMs }, some) => openedWallMs + 1 + (BEFORE_MS[some % 4] ?? 0),
  patientCode: ({ patientCode }, some) => letters(patientCode?.slice(0, 1 + (some % 7)), some),
  lot: ({ lots }, some) => letters(lots[0], some),
  regimenId: ({ regimenId }) => regimenId ?? undefined,
  eye: ({ eyes }, some) => eyes[some % Math.max(1, eyes.length)],
  person: ({ people }, some) => people[some % people.length],
  state: ({ state }) => state,
  deviation: ({ deviations }, some) => [...deviations, 'any'][some % (deviations.length + 1)],
  practice: ({ practice }, some) => (some % 5 === 0 ? 'both' : practice ? 'practice' : 'real'),
};
const letters = (text: string | undefined, some: number): string | undefined =>
  some % 3 === 0 ? text?.toLowerCase() : text;

const FIELDS = Object.keys(ASKED) as (keyof FindFilter)[];

/** Fields as one session has them; now and then one of them as another has it. */
const anyFilter = fc
  .record({
    session: fc.nat(),
    other: fc.nat(),
    fields: fc.subarray(FIELDS, { maxLength: 5 }),
    astray: fc.option(fc.constantFrom(...FIELDS), { freq: 4 }),
    some: fc.nat(1000),
  })
  .map(({ session, other, fields, astray, some }): FindFilter => {
    const [own, another] = [session, other].map((index) => folded[index % folded.length]);
    if (own === undefined || another === undefined) throw new Error('there are no sessions');
    return findFilterSchema.parse(
      Object.fromEntries(fields.map((field) => [field, ASKED[field](field === astray ? another : own, some)])),
    );
  });

describe('whatever is looked for', () => {
  test('what is found is what looking at every session finds, in the same order', () => {
    const finding = finderOf(ledger.copy());
    const found: number[] = [];
    fc.assert(
      fc.property(anyFilter, fc.integer({ min: 10, max: 60 }), (filter, limit) => {
        const wanted = lookedThrough(folded, filter);
        found.push(wanted.length);
        expect(allOf(finding, filter, limit).map(({ sessionId }) => sessionId)).toStrictEqual(
          wanted.map(({ sessionId }) => sessionId),
        );
        expect(pageOf(finding, filter).total).toStrictEqual({ sessions: wanted.length, atLeast: false });
      }),
      { numRuns: 250 },
    );
    expect(found.filter((sessions) => sessions > 1).length, 'filters that find several').toBeGreaterThan(60);
    expect(found.filter((sessions) => sessions === 0).length, 'filters that find none').toBeGreaterThan(5);
  });

  test('a page that begins behind any place at all is the next part of that', () => {
    const finding = finderOf(ledger.copy());
    const place = fc.nat().map((index) => folded[index % folded.length] as Folded);
    fc.assert(
      fc.property(anyFilter, place, fc.integer({ min: 1, max: 20 }), (filter, { openedWallMs, firstSeq }, limit) => {
        const behind = lookedThrough(folded, filter).filter(
          (one) => one.openedWallMs < openedWallMs || (one.openedWallMs === openedWallMs && one.firstSeq < firstSeq),
        );
        const page = pageOf(finding, filter, { openedWallMs, firstSeq }, limit);
        expect(page.rows.map((row) => row.sessionId)).toStrictEqual(
          behind.slice(0, limit).map(({ sessionId }) => sessionId),
        );
        expect(page.more).toBe(behind.length > limit);
      }),
      { numRuns: 150 },
    );
  });

  test('each single field, as each session has it, finds its sessions', () => {
    const finding = finderOf(ledger.copy());
    const filters = folded.flatMap((session, index) => {
      const field = FIELDS[index % FIELDS.length] ?? 'lot';
      return [findFilterSchema.parse({ [field]: ASKED[field](session, index) })];
    });
    for (const filter of filters) {
      const wanted = lookedThrough(folded, filter).map(({ sessionId }) => sessionId);
      expect(allOf(finding, filter).map(({ sessionId }) => sessionId)).toStrictEqual(wanted);
    }
  });
});
