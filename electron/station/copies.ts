import { mkdirSync, renameSync, rmSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Connection } from './open-database.ts';
import { readWhole, troubleIn } from './whole-reading.ts';

/** A second copy of the ledger in another folder, made while sessions run. */
export interface Copies {
  /** Asks for a fresh copy; one under way is followed by another. */
  ask(): void;
}

export interface CopyHears {
  onCopied(copied: { path: string; entries: number; headSeq: number; headHash: string | null }): void;
  onTrouble(words: string): void;
}

/**
 * Copies by SQLite's own backup, aside; reads the copy from end to end; only then puts it in the place of the last one.
 * Nothing that was there before is lost where a copy fails.
 */
export function copiesInto(folder: string | null, db: Connection, hears: CopyHears): Copies {
  if (folder === null) return { ask: () => {} };
  let running = false;
  let again = false;

  async function copy(into: string): Promise<void> {
    const place = join(into, basename(db.name));
    const aside = `${place}.making`;
    mkdirSync(into, { recursive: true });
    rmSync(aside, { force: true });
    await db.backup(aside);
    const reading = await readWhole(aside);
    const [trouble] = troubleIn(reading);
    if (trouble !== undefined || 'unreadable' in reading) throw new Error(trouble ?? 'the copy cannot be read');
    renameSync(aside, place);
    const { entries, headSeq, headHash } = reading;
    hears.onCopied({ path: place, entries, headSeq, headHash });
  }

  async function run(into: string): Promise<void> {
    running = true;
    do {
      again = false;
      try {
        await copy(into);
      } catch (error) {
        const why = error instanceof Error ? error.message : String(error);
        hears.onTrouble(`the second copy in ${into} was not made: ${why}`);
      }
    } while (again);
    running = false;
  }

  return {
    ask: () => {
      if (running) again = true;
      else void run(folder);
    },
  };
}
