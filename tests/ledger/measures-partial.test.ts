import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { deviationsOf } from '../../core/ledger/deviations.ts';
import type { Entry } from '../../core/ledger/entry.ts';
import { measuresOf } from '../../core/ledger/measures.ts';
import { DEFAULT_LIMITS } from '../../core/settings/limits.ts';
import { seeded } from '../deviations/seeded-session.ts';

describe('entries that cannot all be read', () => {
  const lived = seeded({ heldMs: 20_000, lightMs: 45_000 });
  const { entries } = lived;

  test('give the measures up to the one that is damaged, and say which it is', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: entries.length - 1 }), (index) => {
        const damaged = entries.map((entry, at) =>
          at === index ? { ...entry, payload: { nothing: 'of ours' } } : entry,
        );
        const { readTo, trouble, lastSeq, entries: count, ...rest } = measuresOf(damaged);
        const {
          readTo: _readTo,
          trouble: _trouble,
          lastSeq: _last,
          entries: _count,
          ...before
        } = measuresOf(entries.slice(0, index));
        expect(rest).toEqual(before);
        expect([readTo, lastSeq, count]).toEqual([entries[index - 1]?.seq, entries.at(-1)?.seq, entries.length]);
        expect(trouble?.seq).toBe(entries[index]?.seq);
        expect(trouble?.says).not.toMatch(/^entry \d/);
      }),
    );
  });

  test('where one is gone, reading ends at the first that is not possible without it', () => {
    const without = entries.filter(({ kind }) => kind !== 'start-pump');
    const measures = measuresOf(without);
    expect(measures).toMatchObject({ state: 'linePrimed', t0: null, lastSeq: entries.at(-1)?.seq });
    expect(measures.trouble?.says).toMatch(/is not possible there/);
  });

  test('where the opening cannot be read, there is nothing but that', () => {
    const measures = measuresOf(entries.slice(1));
    expect(measures).toMatchObject({ readTo: 0, state: 'planning', patientCode: null, t0: null, people: [] });
    expect(measures.trouble).toEqual({ seq: entries[1]?.seq, says: 'a session begins with the entry that opens it' });
    expect(deviationsOf(measures, DEFAULT_LIMITS)).toEqual([]);
  });

  test('no entries at all are refused', () => {
    expect(() => measuresOf([])).toThrow(RangeError);
  });

  test('whatever is in the payloads, it neither throws nor stops to be plain data', () => {
    fc.assert(
      fc.property(fc.nat(entries.length - 1), fc.jsonValue(), fc.string(), (index, value, key) => {
        const damaged = entries.map((entry, at) => {
          const payload = { ...entry.payload, found: value, [key]: value };
          return at === index ? { ...entry, payload: payload as Entry['payload'] } : entry;
        });
        const measures = measuresOf(damaged);
        expect(JSON.parse(JSON.stringify(measures))).toEqual(measures);
        expect(Array.isArray(deviationsOf(measures, DEFAULT_LIMITS))).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});
