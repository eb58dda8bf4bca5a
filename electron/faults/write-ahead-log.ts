import { readFileSync } from 'node:fs';

const HEADER_BYTES = 32;
const FRAME_HEADER_BYTES = 24;

/**
 * Where each transaction in a write-ahead log ends, in bytes, as the file format says: frames of the log's own salt
 * whose checksums hold, up to the last that commits. Read without SQLite, to know what SQLite ought to find.
 */
export function commitsIn(log: Buffer): number[] {
  if (log.length < HEADER_BYTES) return [];
  const bigEndian = (log.readUInt32BE(0) & 1) === 1;
  const pageBytes = log.readUInt32BE(8);
  const salt = log.subarray(16, 24);
  let sum: Sum = checksum(log.subarray(0, 24), [0, 0], bigEndian);
  if (!holds(sum, log, 24)) return [];
  const ends: number[] = [];
  const frameBytes = FRAME_HEADER_BYTES + pageBytes;
  for (let at = HEADER_BYTES; at + frameBytes <= log.length; at += frameBytes) {
    const frame = log.subarray(at, at + frameBytes);
    sum = checksum(frame.subarray(0, 8), sum, bigEndian);
    sum = checksum(frame.subarray(FRAME_HEADER_BYTES), sum, bigEndian);
    if (!frame.subarray(8, 16).equals(salt) || !holds(sum, frame, 16)) break;
    if (frame.readUInt32BE(4) > 0) ends.push(at + frameBytes);
  }
  return ends;
}

/** The log of a database, empty where there is none. */
export function logOf(database: string): Buffer {
  try {
    return readFileSync(`${database}-wal`);
  } catch {
    return Buffer.alloc(0);
  }
}

type Sum = readonly [number, number];

const holds = ([one, two]: Sum, bytes: Buffer, at: number): boolean =>
  bytes.readUInt32BE(at) === one && bytes.readUInt32BE(at + 4) === two;

function checksum(bytes: Buffer, [first, second]: Sum, bigEndian: boolean): Sum {
  let [one, two] = [first, second];
  const word = (at: number): number => (bigEndian ? bytes.readUInt32BE(at) : bytes.readUInt32LE(at));
  for (let at = 0; at < bytes.length; at += 8) {
    one = (one + word(at) + two) >>> 0;
    two = (two + word(at + 4) + one) >>> 0;
  }
  return [one, two];
}
