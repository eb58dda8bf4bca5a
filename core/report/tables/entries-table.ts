import { canonicalJson, type Entry } from '../../ledger/entry.ts';
import { wordsFor } from '../../ledger/words.ts';
import { isoTime } from '../../time/show.ts';
import { type Extract, standingOf, Withheld, withheldIn } from '../extract.ts';
import { secondsFromT0 } from '../from-start.ts';
import { type Cell, type Column, linesOf } from './column.ts';

/** Stands in the practice column of every line of a session of practice. */
export const PRACTICE = 'PRACTICE';

interface Line {
  readonly entry: Entry;
  readonly practice: boolean;
  readonly fromT0S: number | null;
}

/** One line an entry. */
export const ENTRY_COLUMNS: readonly Column<Line>[] = [
  { name: 'practice', says: 'PRACTICE where the session is practice, else empty', of: (line) => mark(line.practice) },
  { name: 'seq', says: 'place in the ledger, from 1', of: ({ entry }) => entry.seq },
  {
    name: 'time',
    says: 'wall time with its offset from UTC, ISO 8601',
    of: ({ entry }) => isoTime(entry.wallMs, entry.offsetMin),
  },
  {
    name: 'fromT0S',
    says: "seconds from the pump's start on the clock that never steps; empty without a start",
    of: (line) => line.fromT0S,
  },
  { name: 'by', says: 'initials, or station', of: ({ entry }) => entry.author.initials },
  { name: 'role', says: 'nurse, operator, physician, auditor or station', of: ({ entry }) => entry.author.role },
  { name: 'kind', says: 'kind of entry', of: ({ entry }) => entry.kind },
  { name: 'words', says: 'the entry in one sentence', of: ({ entry }) => wordsFor(entry) },
  { name: 'payload', says: 'its content, canonical JSON (RFC 8785)', of: ({ entry }) => canonicalJson(entry.payload) },
  { name: 'sessionId', says: 'the session', of: ({ entry }) => entry.sessionId },
  { name: 'commandId', says: "the command's own identity; empty for the clock", of: ({ entry }) => entry.commandId },
  { name: 'continuousMs', says: 'instant on the continuous clock of the boot', of: ({ entry }) => entry.continuousMs },
  { name: 'boot', says: 'boot of the computer', of: ({ entry }) => entry.boot },
  { name: 'prevHash', says: "SHA-256 of the ledger's entry before", of: ({ entry }) => entry.prevHash },
  { name: 'hash', says: 'SHA-256 of this entry', of: ({ entry }) => entry.hash },
];

export const mark = (practice: boolean): Cell => (practice ? PRACTICE : '');

/** A session's entries as a table, the header first. @throws Withheld */
export function entriesTable(extract: Extract): Generator<readonly Cell[]> {
  const { sessionId, practice, entries } = extract;
  const standing = standingOf(extract);
  if (withheldIn(extract, standing)) throw new Withheld(sessionId);
  const fromT0S = secondsFromT0(entries, standing.record);
  const lines = entries.map((entry, index) => ({ entry, practice, fromT0S: fromT0S[index] ?? null }));
  return linesOf(ENTRY_COLUMNS, lines);
}
