import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CHAIN_START, chainBreak, type Entry, entrySchema, hashOf } from '../../core/ledger/entry.ts';
import { ReplayError, replay } from '../../core/ledger/replay.ts';
import { chained, entriesOf, ONE_EYE, played, sha256, TWO_EYES } from '../session-steps.ts';

const entries = entriesOf(played(TWO_EYES).events);
const anEntry = fc.nat({ max: entries.length - 1 });
const notTheLast = fc.nat({ max: entries.length - 2 });
const breakIn = (list: readonly Entry[]): string | null => chainBreak(list, sha256);

/** The list with the entry at an index replaced. */
const changed = (index: number, change: (entry: Entry) => Entry): Entry[] =>
  entries.map((entry, at) => (at === index ? change(entry) : entry));

test('the entries of a whole treatment parse and hold together', () => {
  for (const entry of entries) expect(entrySchema.parse(entry)).toEqual(entry);
  expect(breakIn(entries)).toBeNull();
  expect(entries[0]?.prevHash).toBe(CHAIN_START);
});

test('a chain may be followed from any of its entries on', () => {
  fc.assert(
    fc.property(notTheLast, (index) => {
      const { seq = 0, hash = '' } = entries[index] ?? {};
      expect(chainBreak(entries.slice(index + 1), sha256, { seq, hash })).toBeNull();
      expect(chainBreak(entries.slice(index + 1), sha256, { seq, hash: sha256(hash) })).toBe(
        `entry ${seq + 1} does not follow the entry before it`,
      );
    }),
  );
});

describe('a change of one field of one entry is found at that entry', () => {
  const CHANGES: Record<Exclude<keyof Entry, 'seq' | 'prevHash'>, (entry: Entry) => Entry> = {
    sessionId: (entry) => ({ ...entry, sessionId: 'session-two' }),
    kind: (entry) => ({ ...entry, kind: `${entry.kind}s` }),
    payload: (entry) => ({ ...entry, payload: { ...entry.payload, more: 1 } }),
    wallMs: (entry) => ({ ...entry, wallMs: entry.wallMs + 1 }),
    offsetMin: (entry) => ({ ...entry, offsetMin: entry.offsetMin + 60 }),
    continuousMs: (entry) => ({ ...entry, continuousMs: entry.continuousMs + 0.001 }),
    boot: (entry) => ({ ...entry, boot: 'boot-two' }),
    author: (entry) => ({ ...entry, author: { initials: 'ZZ', role: 'nurse' } }),
    commandId: (entry) => ({ ...entry, commandId: 'command-of-somebody' }),
    hash: (entry) => ({ ...entry, hash: sha256(entry.hash) }),
  };

  test.each(Object.entries(CHANGES))('%s', (_field, change) => {
    for (const [index, { seq }] of entries.entries()) {
      expect(breakIn(changed(index, change))).toBe(`entry ${seq} was changed after it was written`);
    }
  });

  test('a figure deep in the payload', () => {
    const index = entries.findIndex((entry) => entry.kind === 'measure');
    const heavier = changed(index, (entry) => ({ ...entry, payload: { ...entry.payload, weightKg: 71.6 } }));
    expect(breakIn(heavier)).toBe(`entry ${index + 1} was changed after it was written`);
  });

  test('seq', () => {
    for (const [index, { seq }] of entries.entries()) {
      const says = breakIn(changed(index, (entry) => ({ ...entry, seq: seq + 1 })));
      expect(says).toBe(`entry ${seq} is missing: after ${seq - 1} comes ${seq + 1}`);
    }
  });

  test('prevHash', () => {
    for (const [index, { seq }] of entries.entries()) {
      const says = breakIn(changed(index, (entry) => ({ ...entry, prevHash: sha256('another') })));
      expect(says).toBe(`entry ${seq} does not follow the entry before it`);
    }
  });

  test('and a hash made to fit the change is found at the entry after it', () => {
    fc.assert(
      fc.property(notTheLast, (index) => {
        const forged = changed(index, (entry) => {
          const body = { ...entry, wallMs: entry.wallMs - 60_000 };
          return { ...body, hash: hashOf(body, sha256) };
        });
        expect(breakIn(forged)).toBe(`entry ${index + 2} does not follow the entry before it`);
      }),
    );
  });
});

test('the first line of what is hashed keeps an entry from being mistaken for another text', () => {
  const [first] = entries;
  const texts: string[] = [];
  if (first !== undefined) hashOf(first, (text) => `${texts.push(text)}`);
  expect(texts[0]).toMatch(/^dimroom ledger entry 1\n\{"author":/);
});

describe('an entry taken out or put elsewhere', () => {
  test('out of the middle is missing in the chain, by its number', () => {
    fc.assert(
      fc.property(notTheLast, (index) => {
        const seq = index + 1;
        const says = breakIn(entries.filter((_entry, at) => at !== index));
        expect(says).toBe(`entry ${seq} is missing: after ${seq - 1} comes ${seq + 1}`);
      }),
    );
  });

  test('put in another place breaks the chain at the first place that is wrong', () => {
    fc.assert(
      fc.property(anEntry, anEntry, (one, other) => {
        fc.pre(one !== other);
        const swapped = [...entries];
        [swapped[one], swapped[other]] = [entries[other] as Entry, entries[one] as Entry];
        const first = Math.min(one, other) + 1;
        expect(breakIn(swapped)).toMatch(new RegExp(`^entry ${first} is missing`));
      }),
    );
  });

  test('numbered anew but not chained anew does not follow the entry before it', () => {
    fc.assert(
      fc.property(notTheLast, (index) => {
        const rest = entries.filter((_entry, at) => at !== index).map((entry, at) => ({ ...entry, seq: at + 1 }));
        expect(breakIn(rest)).toBe(`entry ${index + 1} does not follow the entry before it`);
      }),
    );
  });
});

describe('with the chain forged to fit, the procedure still refuses what cannot have happened', () => {
  const whole = entriesOf(played(ONE_EYE).events);
  const kinds = whole.map(({ kind, payload }) => String(payload.item ?? kind));
  const without = (name: string): Entry[] => chained(whole.filter((_entry, at) => at !== kinds.indexOf(name)));
  /** The number that an entry of the whole list has once an earlier one is out. */
  const seqOnceOut = (name: string): number => kinds.indexOf(name);

  test.each([
    ['open-session', 'identify', 'a session begins with the entry that opens it'],
    ['identify', 'prepare', '"prepare" is not possible there'],
    ['consent', 'prepare', '"prepare" is not possible there'],
    ['order', 'second-check', '"second-check" is not possible there'],
    ['screen', 'prepare', '"prepare" is not possible there'],
    ['measure', 'second-check', '"second-check" is not possible there'],
    ['second-check', 'prepare', '"prepare" is not possible there'],
    ['prepare', 'drug', '"drug" is not possible there'],
    ['drug', 'prime-line', '"prime-line" is not possible there'],
    ['time-out', 'prime-line', '"prime-line" is not possible there'],
    ['prime-line', 'line', '"line" is not possible there'],
    ['line', 'start-pump', '"start-pump" is not possible there'],
    ['patency', 'start-pump', '"start-pump" is not possible there'],
    ['start-pump', 'infusion-due', '"infusion-due" is not possible there'],
    ['begin-flush', 'flush-due', '"flush-due" is not possible there'],
    ['end-flush', 'read-back', '"read-back" is not possible there'],
    ['read-back', 'beam-on', '"beam-on" is not possible there'],
    ['drops', 'beam-on', '"beam-on" is not possible there'],
    ['beam-on', 'exposure-due', '"exposure-due" is not possible there'],
    ['beam-off', 'end-light', '"end-light" is not possible there'],
    ['end-light', 'bracelet', '"check" is not possible there'],
    ['bracelet', 'discharge', '"discharge" is not possible there'],
    ['review', 'discharge', '"discharge" is not possible there'],
  ])('without %s it stops at %s', (gone, at, says) => {
    expect(breakIn(without(gone))).toBeNull();
    const refusal = refusalOf(without(gone));
    expect(refusal).toEqual([seqOnceOut(at), `entry ${seqOnceOut(at)}: ${says}`]);
  });

  test('an entry that cannot be read is refused by its number', () => {
    const index = kinds.indexOf('measure');
    for (const change of [
      { kind: 'unheard-of' },
      { kind: 'unheard-due' },
      { payload: { heightCm: 168 } },
      { payload: { heightCm: 168, weightKg: 'heavy', formula: 'mosteller' } },
    ]) {
      const forged = chained(whole.map((entry, at) => (at === index ? { ...entry, ...change } : entry)));
      expect(breakIn(forged)).toBeNull();
      expect(refusalOf(forged)?.[0]).toBe(index + 1);
    }
  });

  test('an entry twice is refused where it stands the second time', () => {
    for (const name of ['prepare', 'start-pump', 'begin-flush', 'beam-on', 'discharge']) {
      const index = kinds.indexOf(name);
      const twice = chained(whole.flatMap((entry, at) => (at === index ? [entry, entry] : [entry])));
      expect(refusalOf(twice)?.[0]).toBe(index + 2);
    }
  });
});

function refusalOf(list: readonly Entry[]): [number, string] | null {
  try {
    replay(list);
    return null;
  } catch (error) {
    if (error instanceof ReplayError) return [error.seq, error.message];
    throw error;
  }
}
