import { createInterface } from 'node:readline';
import type { Readable } from 'node:stream';

/** Hears what a process writes, line by line, until it ends. */
export function hearLines(written: Readable | NodeJS.ReadableStream | null, hear: (line: string) => void): void {
  if (written === null) return;
  createInterface({ input: written, crlfDelay: Number.POSITIVE_INFINITY }).on('line', hear);
}
