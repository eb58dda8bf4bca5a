import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeSync,
} from 'node:fs';
import { dirname } from 'node:path';
import { canonicalJson, type Entry, entrySchema } from '../../core/ledger/entry.ts';

/** Where entries are kept, on another disk if there is one, while the ledger's own does not take them. */
export interface EmergencyFile {
  readonly path: string;
  /** Keeps an entry; on disk when it returns. @throws Error where this file cannot be written either. */
  keep(entry: Entry): void;
  /** What an earlier station left, in order. A last line that was cut off in the middle was never acknowledged. */
  left(): Entry[];
  /** Everything kept is in the ledger. */
  clear(): void;
  /** Puts the file beside itself, untouched, for those who look into it. Returns where. */
  setAside(stamp: string): string;
}

export function emergencyFile(path: string): EmergencyFile {
  return {
    path,
    keep: (entry) => {
      mkdirSync(dirname(path), { recursive: true });
      const file = openSync(path, 'a', 0o600);
      try {
        writeSync(file, `${canonicalJson(entry)}\n`);
        fsyncSync(file);
      } finally {
        closeSync(file);
      }
    },
    left: () => (existsSync(path) ? entriesIn(readFileSync(path, 'utf8')) : []),
    clear: () => rmSync(path, { force: true }),
    setAside: (stamp) => {
      const aside = `${path}.${stamp}`;
      renameSync(path, aside);
      return aside;
    },
  };
}

function entriesIn(text: string): Entry[] {
  return text
    .split('\n')
    .slice(0, -1)
    .flatMap((line) => {
      try {
        return [entrySchema.parse(JSON.parse(line))];
      } catch {
        return [];
      }
    });
}
