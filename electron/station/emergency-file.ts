import {
  closeSync,
  existsSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  mkdirSync,
  openSync,
  readFileSync,
  readSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { platform } from 'node:os';
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
      const file = openSync(path, 'a+', 0o600);
      try {
        const isNew = fstatSync(file).size === 0;
        addLine(file, canonicalJson(entry));
        if (isNew) holdName(path);
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

/** Whole or not at all: a line that was refused must not be found later, and half a one would spoil the next. */
function addLine(file: number, line: string): void {
  const size = fstatSync(file).size;
  try {
    writeFileSync(file, endsLine(file, size) ? `${line}\n` : `\n${line}\n`);
    fsyncSync(file);
  } catch (error) {
    ftruncateSync(file, size);
    throw error;
  }
}

function endsLine(file: number, size: number): boolean {
  const last = Buffer.alloc(1);
  return size === 0 || (readSync(file, last, 0, 1, size - 1) === 1 && last.toString() === '\n');
}

/** A new file's name is on disk only once its folder is; Windows has no way to ask for that, and does not need it. */
function holdName(path: string): void {
  if (platform() === 'win32') return;
  const folder = openSync(dirname(path), 'r');
  try {
    fsyncSync(folder);
  } finally {
    closeSync(folder);
  }
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
