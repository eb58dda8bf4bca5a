import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { canonicalize } from 'json-canonicalize';
import { describe, expect, test } from 'vitest';
import { type Anchor, anchorText } from '../../core/ledger/verify.ts';
import { chainExport } from '../../core/report/chain/chain-export.ts';
import type { ChainExport } from '../../core/report/chain/chain-shape.ts';
import { isChainExport, verifyChain } from '../../core/report/chain/verify-chain.ts';
import type { Extract } from '../../core/report/extract.ts';
import { atOf, ONE_EYE, type Step, sha256, stepsBefore, TWO_EYES } from '../session-steps.ts';
import { chainOf, extractOf, FILE_ID } from './ledger-of.ts';

/** Two sessions of one patient and one of another, under way at once: entries of one stand between those of the others. */
const other: Step[] = ONE_EYE.map((step) =>
  step.name === 'identify'
    ? { ...step, command: { kind: 'identify', patientCode: 'K-77', birthDate: '1960-01-09' } }
    : step,
);
const chain = chainOf([
  { id: 'first', steps: ONE_EYE },
  { id: 'second', steps: stepsBefore('end-flush', TWO_EYES) },
  { id: 'other', steps: other },
]);
const hashes = (fromSeq: number, toSeq: number): string[] => chain.slice(fromSeq - 1, toSeq).map(({ hash }) => hash);
const first = extractOf(chain, 'first');
const second = extractOf(chain, 'second');

const made = (sessions: Extract[], withGaps = false, patientCode: string | null = null): string =>
  [...chainExport({ sessions, patientCode, hashes: withGaps ? hashes : null, sha256 })].join('');
const taken = (sessions: Extract[], withGaps = false, patientCode: string | null = null): ChainExport =>
  JSON.parse(made(sessions, withGaps, patientCode));
const faultsOf = (value: unknown, anchor: Anchor | null = null): string[] =>
  verifyChain(value, sha256, anchor).faults.map(({ seq, what }) => `${seq}: ${what}`);

describe('a session as JSON with its chain', () => {
  test.each([[false], [true]])('is sound by itself, with gaps: %s', (withGaps) => {
    expect(faultsOf(taken([first], withGaps))).toStrictEqual([]);
    expect(faultsOf(taken([first, second], withGaps, 'K-2041'))).toStrictEqual([]);
  });

  test('holds every entry of the session as the ledger has it, and none of another', () => {
    const { entries, sessions, fileId, head, anchor } = taken([first]);
    expect(entries).toStrictEqual(JSON.parse(JSON.stringify(first.entries)));
    expect(sessions).toStrictEqual([
      {
        sessionId: 'first',
        practice: false,
        entries: entries.length,
        firstSeq: entries[0]?.seq,
        lastSeq: entries.at(-1)?.seq,
      },
    ]);
    expect([fileId, head.seq, anchor]).toStrictEqual([FILE_ID, chain.length, anchorText({ fileId: FILE_ID, ...head })]);
  });

  test('has hashes that another implementation of canonical JSON computes alike', () => {
    for (const { hash, ...body } of taken([first]).entries) {
      const text = `dimroom ledger entry 1\n${canonicalize(body)}`;
      expect(createHash('sha256').update(text, 'utf8').digest('hex')).toBe(hash);
    }
  });

  test('has with gaps a hash for every other entry of the ledger, and nothing of what they say', () => {
    const { entries, gaps } = taken([first], true);
    const places = new Map(entries.map(({ seq, hash }) => [seq, hash]));
    for (const { fromSeq, toSeq, hashes: held } of gaps ?? []) {
      expect(held).toHaveLength(toSeq - fromSeq + 1);
      for (const [index, hash] of held.entries()) places.set(fromSeq + index, hash);
    }
    expect([...places].sort(([one], [another]) => one - another)).toStrictEqual(
      chain.map(({ seq, hash }) => [seq, hash]),
    );
    expect(made([first], true)).not.toContain('K-77');
  });

  test('says what it proves and what only the ledger does, and is known again by its first words', () => {
    const { proves, onlyTheLedgerProves } = taken([first]);
    expect(proves.length + onlyTheLedgerProves.length).toBeGreaterThan(4);
    expect(isChainExport(taken([first]))).toBe(true);
    for (const value of [null, 3, 'dimroom', [], {}, { format: 'dimroom chain export 2' }]) {
      expect(isChainExport(value)).toBe(false);
    }
  });

  test('of practice says so at its head', () => {
    const practised = extractOf(chainOf([{ id: 'first', steps: ONE_EYE, practice: true }]), 'first');
    const { practice, sessions } = taken([practised]);
    expect([practice, sessions[0]?.practice]).toStrictEqual(['PRACTICE, not for a patient', true]);
    expect(taken([first]).practice).toBeNull();
  });

  test('is given in pieces that are the file when they stand together', () => {
    const pieces = [...chainExport({ sessions: [first], patientCode: null, hashes: null, sha256 })];
    expect(pieces.length).toBeGreaterThan(first.entries.length);
    expect(() => JSON.parse(pieces.join(''))).not.toThrow();
  });
});

describe('what is withheld', () => {
  const planned = chainOf([
    { id: 'done', steps: ONE_EYE },
    { id: 'planned', steps: stepsBefore('second-check') },
  ]);
  const both = ['done', 'planned'].map((id) => extractOf(planned, id));

  test('is not exported where it alone is asked for', () => {
    expect(() => made(both.slice(1))).toThrow(/session planned is not exported yet/);
  });

  test('is left out of a patient’s sessions, and named', () => {
    const { sessions, leftOut, entries } = taken(both, false, 'K-2041');
    expect(sessions.map(({ sessionId }) => sessionId)).toStrictEqual(['done']);
    expect(leftOut).toStrictEqual([{ sessionId: 'planned', why: expect.stringMatching(/withheld/) }]);
    expect(entries.every(({ sessionId }) => sessionId === 'done')).toBe(true);
    expect(faultsOf(taken(both, false, 'K-2041'))).toStrictEqual([]);
  });
});

type Path = readonly (string | number)[];

/** Every place in a JSON value where a single value stands. */
function leavesOf(value: unknown, path: Path = []): Path[] {
  if (value === null || typeof value !== 'object') return [path];
  const inner = Object.entries(value).flatMap(([key, one]) =>
    leavesOf(one, [...path, Array.isArray(value) ? Number(key) : key]),
  );
  return inner.length === 0 ? [path] : inner;
}

/** A copy with another value at a place. */
function bent(value: unknown, path: Path): unknown {
  const copy = structuredClone(value);
  const last = path.at(-1);
  if (last === undefined) throw new Error('a place inside');
  let holder = copy as Record<string | number, unknown>;
  for (const key of path.slice(0, -1)) holder = holder[key] as Record<string | number, unknown>;
  const was = holder[last];
  holder[last] =
    typeof was === 'number'
      ? was + 1
      : typeof was === 'boolean'
        ? !was
        : was === null
          ? 'x'
          : typeof was === 'string'
            ? otherText(was)
            : 'x';
  return copy;
}

const otherText = (was: string): string => `${was.slice(0, -1)}${was.endsWith('0') ? '1' : '0'}`;

describe('somebody changed it', () => {
  const whole = taken([first, second], true, 'K-2041');
  const places = leavesOf(whole);

  test('in any one field of any one entry: the entry is named', () => {
    const inEntries = places.filter(([name]) => name === 'entries');
    expect(inEntries.length).toBeGreaterThan(12 * whole.entries.length);
    for (const path of inEntries) {
      // A place that was changed is named as it stands now.
      const seq = (whole.entries[Number(path[1])]?.seq ?? 0) + (path[2] === 'seq' ? 1 : 0);
      const found = faultsOf(bent(whole, path)).join('\n');
      expect([path, found]).toStrictEqual([
        path,
        expect.stringMatching(new RegExp(`(^|\\n)${seq}: |entries\\.${path[1]}\\.`)),
      ]);
    }
  }, 300_000);

  test('in any one field around the entries', () => {
    const around = places.filter(([name]) => name !== 'entries');
    for (const path of around) {
      if (path[0] === 'format') continue;
      expect([path, faultsOf(bent(whole, path)).length]).not.toStrictEqual([path, 0]);
    }
  });

  test('so that it is no longer what it says it is', () => {
    expect(isChainExport(bent(whole, ['format']))).toBe(false);
  });

  test('by leaving out an entry, putting two in another order, or adding one twice', () => {
    const { entries } = whole;
    entries.forEach((_, index) => {
      const without = { ...whole, entries: entries.toSpliced(index, 1) };
      expect(faultsOf(without).length).toBeGreaterThan(0);
    });
    const [one, two] = entries;
    if (one === undefined || two === undefined) throw new Error('there are two entries');
    expect(faultsOf({ ...whole, entries: entries.with(0, two).with(1, one) }).join()).toMatch(/out of order/);
    expect(faultsOf({ ...whole, entries: [one, ...entries] }).join()).toMatch(/out of order/);
  });

  test('by adding a field of their own', () => {
    expect(faultsOf({ ...whole, note: 'all well' }).join()).toMatch(/not as an export has it/);
  });

  test('and computed that entry’s hash anew: the entry that follows it tells', () => {
    const at = whole.entries.findIndex(({ seq }, index) => whole.entries[index + 1]?.seq === seq + 1);
    const entry = whole.entries[at];
    if (entry === undefined) throw new Error('two entries of the export are neighbours in the ledger');
    const { hash: _hash, ...body } = { ...entry, author: { initials: 'ZZ', role: 'nurse' } as const };
    const forged = { ...body, hash: sha256(`dimroom ledger entry 1\n${canonicalize(body)}`) };
    const found = faultsOf({ ...whole, entries: whole.entries.with(at, forged) });
    expect(found.join('\n')).toContain(`${entry.seq + 1}: does not follow the entry before it`);
  });
});

describe('an anchor that was kept elsewhere', () => {
  const anchorAt = (seq: number, hash = chain[seq - 1]?.hash ?? ''): Anchor => ({ fileId: FILE_ID, seq, hash });

  test('of the head, of an entry, or of one between where gaps are there, is met', () => {
    const inside = first.entries[4]?.seq ?? 0;
    const between = chain.find(({ sessionId }) => sessionId === 'other')?.seq ?? 0;
    expect(faultsOf(taken([first]), anchorAt(chain.length))).toStrictEqual([]);
    expect(faultsOf(taken([first]), anchorAt(inside))).toStrictEqual([]);
    expect(faultsOf(taken([first], true), anchorAt(between))).toStrictEqual([]);
    expect(faultsOf(taken([first]), anchorAt(between)).join()).toMatch(/only the ledger can be held against it/);
  });

  test('that says otherwise is told', () => {
    const otherHash = 'f'.repeat(64);
    expect(faultsOf(taken([first]), anchorAt(chain.length, otherHash)).join()).toMatch(/written anew since/);
    expect(faultsOf(taken([first]), { ...anchorAt(chain.length), fileId: 'x' }).join()).toMatch(/of another file/);
  });
});

test('anything at all that says it is an export is read through, and never throws', () => {
  fc.assert(
    fc.property(fc.object({ maxDepth: 3 }), (value) => {
      const { faults } = verifyChain({ ...value, format: 'dimroom chain export 1' }, sha256);
      expect(faults.length).toBeGreaterThan(0);
    }),
  );
});

test('a session whose entries are partly damaged is exported with what can be read, and is not sound', () => {
  const at = atOf('prime-line');
  const torn = first.entries.filter(({ continuousMs }) => continuousMs < at);
  const lost = first.entries[torn.length]?.seq ?? 0;
  const found = faultsOf(taken([{ ...first, entries: torn, unreadable: [{ seq: lost, says: 'not JSON' }] }]));
  expect(found).toContain(`${lost}: was damaged in the ledger already: not JSON`);
});

test('an export with nobody in it is refused', () => {
  expect(() => made([])).toThrow(RangeError);
});
