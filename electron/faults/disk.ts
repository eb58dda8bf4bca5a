import { execFileSync } from 'node:child_process';
import { closeSync, existsSync, mkdirSync, mkdtempSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { platform, tmpdir } from 'node:os';
import { join } from 'node:path';

export type DiskState = 'well' | 'full' | 'read-only';

/** A disk that can be filled up, and made to refuse writes, under a running station. */
export interface Disk {
  /** The data folder on it. */
  readonly data: string;
  /** By what means each state is brought about. */
  readonly means: Readonly<Record<Exclude<DiskState, 'well'>, string>>;
  /** Returns whether the station itself has to be told, since nothing here can bring it about. */
  set(state: DiskState): boolean;
  remove(): void;
}

const SMALL_BYTES = 16 * 1024 * 1024;
const INSIDE = { full: 'max_page_count', 'read-only': 'query_only' } as const;

/** A small disk of its own, in memory, where this process may mount one; else a folder. */
export function smallDisk(): Disk {
  const place = mkdtempSync(join(tmpdir(), 'dimroom-disk-'));
  if (!ran('mount', ['-t', 'tmpfs', '-o', `size=${SMALL_BYTES}`, 'tmpfs', place])) return folderAt(place);
  const data = join(place, 'data');
  const filler = join(place, 'filler');
  mkdirSync(data);
  return {
    data,
    means: { ...INSIDE, full: 'tmpfs' },
    set: (state) => {
      rmSync(filler, { force: true });
      if (state === 'full') fill(filler);
      return state === 'read-only';
    },
    remove: () => {
      ran('umount', ['-l', place]);
      rmSync(place, { recursive: true, force: true });
    },
  };
}

/** A folder of the machine's own disk, whose files can be made unchangeable where the file system knows that. */
export function plainDisk(): Disk {
  return folderAt(mkdtempSync(join(tmpdir(), 'dimroom-disk-')));
}

function folderAt(place: string): Disk {
  const data = join(place, 'data');
  mkdirSync(data);
  const flag = immutableBinds(place);
  const set = (flagged: boolean): void => {
    for (const name of ['ledger.sqlite3', 'ledger.sqlite3-wal']) {
      const file = join(data, name);
      if (existsSync(file)) ran('chattr', [flagged ? '+i' : '-i', file]);
    }
  };
  return {
    data,
    means: { ...INSIDE, ...(flag ? { 'read-only': 'immutable flag' } : {}) },
    set: (state) => {
      if (flag) set(state === 'read-only');
      return state === 'full' || (state === 'read-only' && !flag);
    },
    remove: () => {
      if (flag) set(false);
      rmSync(place, { recursive: true, force: true });
    },
  };
}

/** Whether the flag stops also who has the file open already, as a disk that turned read-only would. */
function immutableBinds(place: string): boolean {
  const probe = join(place, 'probe');
  const file = openSync(probe, 'w');
  try {
    if (!ran('chattr', ['+i', probe])) return false;
    try {
      writeSync(file, 'x');
      return false;
    } catch {
      return true;
    }
  } finally {
    closeSync(file);
    ran('chattr', ['-i', probe]);
    rmSync(probe, { force: true });
  }
}

function fill(filler: string): void {
  for (const bytes of [SMALL_BYTES, 4096, 512]) {
    try {
      writeFileSync(filler, Buffer.alloc(bytes), { flag: 'a' });
    } catch {
      // Full to the last byte is what is wanted.
    }
  }
}

function ran(program: string, words: readonly string[]): boolean {
  if (platform() !== 'linux' || process.getuid?.() !== 0) return false;
  try {
    execFileSync(program, words, { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}
