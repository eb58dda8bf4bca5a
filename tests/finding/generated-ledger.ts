import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { afterAll, beforeAll, onTestFinished } from 'vitest';
import type { FindCursor, FindFilter } from '../../core/ledger/find-filter.ts';
import type { SessionRow } from '../../core/protocol/finding.ts';
import type { Message } from '../../core/protocol/messages.ts';
import { DEFAULT_LIMITS, type Limits } from '../../core/settings/limits.ts';
import { type Finder, finder } from '../../electron/station/finding/finder.ts';
import { indexFileOf } from '../../electron/station/finding/index-file.ts';
import type { Truth } from '../generated/day.ts';
import { type Generated, generate } from '../generated/generate.ts';
import { newFolder } from '../station/station-under-test.ts';

type Found = Extract<Message, { type: 'found' }>;

/** A ledger of invented sessions with its index, made once for a file of tests; each test gets copies of its own. */
export interface GeneratedLedger {
  readonly made: Generated;
  readonly truths: readonly Truth[];
  /** Where the ledger is. Its index is beside it, and whole. */
  readonly file: string;
  /** A copy of both. Returns where the ledger's is. */
  copy(): string;
}

export function generatedLedger(sessions: number, seed = 7): GeneratedLedger {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-test-'));
  const file = join(folder, 'ledger.sqlite3');
  const truths: Truth[] = [];
  let made: Generated = { sessions: 0, entries: 0, hashedBytes: 0, played: 0 };
  beforeAll(() => {
    made = generate({ file, sessions, seed, onTruth: (truth) => truths.push(truth) });
    const finding = finder(file, DEFAULT_LIMITS);
    bringUp(finding);
    finding.close();
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return {
    truths,
    file,
    get made() {
      return made;
    },
    copy: () => {
      const into = newFolder();
      for (const from of [file, indexFileOf(file)]) copyFileSync(from, join(into, basename(from)));
      return join(into, basename(file));
    },
  };
}

/** A finder that is closed when the test is over. */
export function finderOf(file: string, limits: Limits = DEFAULT_LIMITS): Finder {
  const finding = finder(file, limits);
  onTestFinished(() => finding.close());
  return finding;
}

/** Does all that an index lacks. Returns in how many batches. */
export function bringUp(finding: Finder): number {
  let batches = 0;
  while (finding.step()) batches += 1;
  return batches;
}

export function pageOf(finding: Finder, filter: FindFilter, cursor: FindCursor | null = null, limit = 200): Found {
  const answer = finding.answer({ type: 'find', requestId: 'a-request', filter, cursor, limit });
  if (answer.type !== 'found') throw new Error(`not found: ${JSON.stringify(answer)}`);
  return answer;
}

/** Every session that answers to a filter, page after page. */
export function allOf(finding: Finder, filter: FindFilter, limit = 200): SessionRow[] {
  const rows: SessionRow[] = [];
  let cursor: FindCursor | null = null;
  do {
    const page: Found = pageOf(finding, filter, cursor, limit);
    rows.push(...page.rows);
    cursor = page.next;
  } while (cursor !== null);
  return rows;
}

/** Of a ledger's file, with what SQLite has not moved into it yet. */
export function bytesHash(file: string): string {
  const hash = createHash('sha256');
  for (const name of [file, `${file}-wal`]) if (existsSync(name)) hash.update(readFileSync(name));
  return hash.digest('hex');
}
