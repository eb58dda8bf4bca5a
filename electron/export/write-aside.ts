import { createHash } from 'node:crypto';
import { closeSync, existsSync, fsyncSync, openSync, readSync, renameSync, rmSync } from 'node:fs';
import { link, mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** An export that cannot be written: why, and what to do. */
export class CannotWrite extends Error {}

export type Piece = string | Uint8Array;

/** A file as it was written. */
export interface Written {
  readonly name: string;
  readonly bytes: number;
  /** Of those bytes, in lower-case hexadecimal. */
  readonly sha256: string;
}

/**
 * Writes a file whole or not at all: aside in the same folder, forced to disk, and only then under its name. Ended or
 * failed, nothing is left of it. Ended by a kill that no program can meet, a hidden `.NAME.PID.partial` may be.
 *
 * @throws CannotWrite where a file is there already and `replace` was not said, or where it cannot be written.
 */
export async function writeWhole(
  path: string,
  pieces: Iterable<Piece>,
  { replace, signal }: { replace: boolean; signal: AbortSignal },
): Promise<Written> {
  await mayWrite(path, replace);
  const aside = asideOf(path);
  try {
    const written = await fill(aside, pieces, signal);
    signal.throwIfAborted();
    await (replace ? rename(aside, path) : renameOntoNothing(aside, path));
    syncFolder(dirname(path));
    return { name: path, ...written };
  } catch (error) {
    await rm(aside, { force: true });
    throw complaint(error, path);
  }
}

/** One file of a folder that is written whole. */
export interface FolderFile {
  readonly name: string;
  readonly pieces: () => Iterable<Piece> | Promise<Iterable<Piece>>;
}

/**
 * The same for a folder of files. A folder that is there already is never replaced: it may hold what somebody else needs.
 *
 * @throws CannotWrite
 */
export async function writeFolder(path: string, files: Iterable<FolderFile>, signal: AbortSignal): Promise<Written[]> {
  if (existsSync(path)) throw new CannotWrite(`${path} is there already: name a folder that is not, none is replaced`);
  needFolder(path);
  const aside = asideOf(path);
  const written: Written[] = [];
  try {
    await mkdir(aside, { mode: 0o700 });
    for (const { name, pieces } of files) {
      signal.throwIfAborted();
      written.push({ name, ...(await fill(join(aside, name), await pieces(), signal)) });
    }
    syncFolder(aside);
    signal.throwIfAborted();
    renameSync(aside, path);
    syncFolder(dirname(path));
    return written;
  } catch (error) {
    rmSync(aside, { recursive: true, force: true });
    throw complaint(error, path);
  }
}

const asideOf = (path: string): string => join(dirname(path), `.${basename(path)}.${process.pid}.partial`);

/** Small pieces are gathered: a write to disk for each line would take most of the time. */
const AT_ONCE = 64 * 1024;

async function fill(file: string, pieces: Iterable<Piece>, signal: AbortSignal): Promise<Omit<Written, 'name'>> {
  const hash = createHash('sha256');
  let bytes = 0;
  // It may hold what was entered of a patient: for its owner alone, until its owner gives it away.
  const handle = await open(file, 'wx', 0o600);
  try {
    for (const block of gathered(pieces)) {
      signal.throwIfAborted();
      hash.update(block);
      bytes += block.length;
      await handle.appendFile(block);
    }
    await handle.sync();
  } finally {
    await handle.close();
  }
  return { bytes, sha256: hash.digest('hex') };
}

function* gathered(pieces: Iterable<Piece>): Generator<Uint8Array> {
  let waiting: Uint8Array[] = [];
  let size = 0;
  for (const piece of pieces) {
    const bytes = typeof piece === 'string' ? Buffer.from(piece, 'utf8') : piece;
    waiting.push(bytes);
    size += bytes.length;
    if (size < AT_ONCE) continue;
    yield Buffer.concat(waiting);
    waiting = [];
    size = 0;
  }
  yield Buffer.concat(waiting);
}

async function mayWrite(path: string, replace: boolean): Promise<void> {
  needFolder(path);
  if (!existsSync(path)) return;
  if ((await stat(path)).isDirectory()) throw new CannotWrite(`${path} is a folder: name a file in it`);
  if (isDatabase(path)) throw new CannotWrite(`${path} is a database: an export never replaces one`);
  if (!replace) throw new CannotWrite(`${path} is there already: name another, or say --replace`);
}

function needFolder(path: string): void {
  const folder = dirname(path);
  if (!existsSync(folder)) throw new CannotWrite(`there is no folder ${folder}: make it first`);
}

/** Every SQLite file begins with these 16 bytes: SQLite's file format, section 1.2. */
function isDatabase(path: string): boolean {
  const head = Buffer.alloc(16);
  const file = openSync(path, 'r');
  readSync(file, head, 0, 16, 0);
  closeSync(file);
  return head.toString('latin1') === 'SQLite format 3\0' || /-(wal|shm|journal)$/.test(path);
}

/** A name that came into being meanwhile is not overwritten. Some disks have no links: there the look before has to do. */
async function renameOntoNothing(aside: string, path: string): Promise<void> {
  try {
    await link(aside, path);
    await rm(aside);
  } catch (error) {
    if (codeOf(error) === 'EEXIST') throw new CannotWrite(`${path} came into being meanwhile: name another`);
    if (existsSync(path)) throw error;
    await rename(aside, path);
  }
}

/** A name is on disk once its folder is; where folders cannot be forced, the file itself was. */
function syncFolder(folder: string): void {
  try {
    const handle = openSync(folder, 'r');
    fsyncSync(handle);
    closeSync(handle);
  } catch {}
}

const codeOf = (error: unknown): string | undefined => (error as { code?: string }).code;

/** What the disk says, in words; what is not the disk's stays as it is. */
function complaint(error: unknown, path: string): unknown {
  const code = codeOf(error);
  if (code === 'ENOSPC') return new CannotWrite(`the disk is full: ${path} was not written`);
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') {
    return new CannotWrite(`${path} cannot be written there: choose a folder that may be written to`);
  }
  return error;
}
