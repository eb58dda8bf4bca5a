import type { Entry } from '../../core/ledger/entry.ts';
import { replay } from '../../core/ledger/replay.ts';
import { anchorText, type Problem, readAnchor, Verifier } from '../../core/ledger/verify.ts';
import { wordsFor } from '../../core/ledger/words.ts';
import { stateOf } from '../../core/procedure/record.ts';
import { STATE_WORDS } from '../../core/procedure/states.ts';
import { timerReport } from '../../core/procedure/timer-report.ts';
import { recordTime } from '../../core/time/show.ts';
import { type LedgerFile, readLedgerFile } from '../station/read-file.ts';
import { sha256 } from '../station/sha256.ts';

/** Runs one report over a file, and closes it whatever happens. */
function over<T>(file: string, report: (ledger: LedgerFile) => T): T {
  const ledger = readLedgerFile(file);
  try {
    return report(ledger);
  } finally {
    ledger.close();
  }
}

/**
 * Structure, chain and replay of a whole file; with an anchor, also that its tail is the one the anchor was taken of.
 * `onRead` hears of each entry's sequence as it is read.
 */
export function verify(file: string, anchorWords: string | null, onRead: (seq: number) => void = () => {}) {
  const anchorGiven = anchorWords === null ? null : readAnchor(anchorWords);
  return over(file, (ledger) => {
    const verifier = new Verifier(sha256, anchorGiven);
    for (const fault of ledger.structure()) verifier.note(fault);
    for (const found of ledger.found()) {
      verifier.take(found);
      onRead(found.seq);
    }
    const { problems, head, fileId, ...counts } = verifier.result();
    return {
      file,
      sound: problems.length === 0,
      fileId,
      ...counts,
      headSeq: head?.seq ?? 0,
      headHash: head?.hash ?? null,
      problems: problems.map(problemWords),
    };
  });
}

const problemWords = ({ seq, what, sinceWallMs }: Problem) => ({
  seq,
  what,
  since: sinceWallMs === null ? null : new Date(sinceWallMs).toISOString(),
});

/** Every session of a file, with its state as its entries give it. */
export function list(file: string) {
  return over(file, (ledger) => ({
    file,
    sessions: ledger.sessions().map(({ id, opened_seq, practice }) => {
      const entries = ledger.entriesOf(id);
      const first = entries[0];
      return {
        sessionId: id,
        openedSeq: opened_seq,
        opened: first === undefined ? null : recordTime(first.wallMs, first.offsetMin),
        practice: practice === 1,
        ...standing(entries),
        entries: entries.length,
      };
    }),
  }));
}

/** Where a session stands, or why that cannot be told: the others are listed all the same. */
function standing(entries: readonly Entry[]): { patientCode: string | null; state: string } {
  try {
    const record = replay(entries).context;
    return { patientCode: record.patient?.patientCode ?? null, state: STATE_WORDS[stateOf(record)] };
  } catch (error) {
    return { patientCode: null, state: `cannot be told: ${error instanceof Error ? error.message : String(error)}` };
  }
}

/** One session, as it stood at an instant of wall time, or as it stands. */
export function show(file: string, sessionId: string, at: string | null) {
  const atWallMs = at === null ? Number.POSITIVE_INFINITY : Date.parse(at);
  // Times are printed in whole seconds: one that is given so means all of its second.
  const untilWallMs = at === null || /\.\d/.test(at) ? atWallMs : atWallMs + 999;
  if (Number.isNaN(untilWallMs)) throw new RangeError(`"${at}" is not a time: write 2026-03-02T14:07:22+01:00`);
  return over(file, (ledger) => {
    const all = ledger.entriesOf(sessionId);
    if (all.length === 0) throw new RangeError(`there is no session ${sessionId} in ${file}`);
    // In order of sequence up to the last entry that had been written by then: wall time may have stepped between.
    const last = all.findLastIndex((entry) => entry.wallMs <= untilWallMs);
    const entries = all.slice(0, last + 1);
    if (entries.length === 0) throw new RangeError(`session ${sessionId} was not open yet at ${at}`);
    const record = replay(entries).context;
    return {
      file,
      sessionId,
      at: at === null ? null : new Date(atWallMs).toISOString(),
      state: STATE_WORDS[stateOf(record)],
      timers: timerReport(record),
      record,
      entries: entries.map((entry) => ({
        seq: entry.seq,
        time: recordTime(entry.wallMs, entry.offsetMin),
        by: entry.author.initials,
        role: entry.author.role,
        words: wordsFor(entry),
        hash: entry.hash,
      })),
    };
  });
}

/** File identity, sequence and head hash: what to keep elsewhere, so that a cut or rewritten tail can be found. */
export function anchor(file: string) {
  return over(file, (ledger) => {
    const verifier = new Verifier(sha256);
    for (const found of ledger.found()) verifier.take(found);
    const { head, fileId } = verifier.result();
    if (head === null || fileId === null) throw new RangeError(`${file} has no entry to take an anchor of`);
    return { file, fileId, ...head, anchor: anchorText({ fileId, ...head }) };
  });
}
