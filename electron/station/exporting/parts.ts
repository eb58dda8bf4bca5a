import { createHash } from 'node:crypto';
import type { Piece } from '../../export/write-aside.ts';

/** One part of a file. */
export interface Part {
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** How much of the file this comes to, 0 to 1, of as many pieces as were expected. */
  readonly share: number;
  /** With the last part: all bytes, and their SHA-256. */
  readonly end: { readonly bytes: number; readonly sha256: string } | null;
}

/** Cuts pieces into parts of at most so many bytes. A piece is asked for only when its bytes are needed. */
export function* parts(pieces: Iterable<Piece>, expected: number, mostBytes: number): Generator<Part> {
  const hash = createHash('sha256');
  const waiting = new Waiting();
  let total = 0;
  let taken = 0;
  const source = pieces[Symbol.iterator]();

  function cut(): Uint8Array<ArrayBuffer> {
    const bytes = waiting.take(mostBytes);
    hash.update(bytes);
    total += bytes.length;
    return bytes;
  }

  for (let next = source.next(); next.done !== true; next = source.next()) {
    waiting.put(typeof next.value === 'string' ? Buffer.from(next.value, 'utf8') : next.value);
    taken += 1;
    // One more byte than a part has stays back: the last part is known to be the last.
    while (waiting.bytes > mostBytes) {
      const bytes = cut();
      const made = taken - waiting.bytes / (waiting.bytes + total);
      yield { bytes, share: Math.min(1, made / Math.max(expected, taken)), end: null };
    }
  }
  const bytes = cut();
  yield { bytes, share: 1, end: { bytes: total, sha256: hash.digest('hex') } };
}

/** Bytes that wait to be cut. */
class Waiting {
  private pieces: Uint8Array[] = [];
  bytes = 0;

  put(piece: Uint8Array): void {
    this.pieces.push(piece);
    this.bytes += piece.length;
  }

  take(mostBytes: number): Uint8Array<ArrayBuffer> {
    const whole = this.pieces.length === 1 ? this.pieces[0] : undefined;
    const all = whole ?? Buffer.concat(this.pieces);
    const rest = all.subarray(mostBytes);
    this.pieces = rest.length === 0 ? [] : [rest];
    this.bytes = rest.length;
    // A copy: what is passed to another thread goes with the memory it lies in.
    return Uint8Array.from(all.subarray(0, mostBytes));
  }
}
