import canonicalize from 'canonicalize';
import { z } from 'zod';
import { authorSchema } from '../procedure/person.ts';

const hex64 = z.string().regex(/^[0-9a-f]{64}$/);

/** What stands before the first entry: the chain has to begin somewhere. */
export const CHAIN_START = '0'.repeat(64);

/** First line of everything that is hashed: an entry's hash can be mistaken for nothing else. */
const DOMAIN = 'dimroom ledger entry 1';

/**
 * One entry of the ledger. `sessionId` is null for what concerns the station and not one patient. `commandId` is the
 * identity the screen gave its command, so that a command sent twice is entered once; null for what the clock brought.
 * `prevHash` and `hash` are SHA-256, in lower-case hexadecimal.
 */
export const entrySchema = z.strictObject({
  seq: z.number().int().positive(),
  sessionId: z.string().nullable(),
  kind: z.string().min(1).max(40),
  payload: z.record(z.string(), z.unknown()),
  wallMs: z.number().int(),
  offsetMin: z.number().int(),
  continuousMs: z.number(),
  boot: z.string().min(1),
  author: authorSchema,
  commandId: z.string().nullable(),
  prevHash: hex64,
  hash: hex64,
});

export type Entry = z.infer<typeof entrySchema>;
export type EntryBody = Omit<Entry, 'hash'>;

/** SHA-256 of a text's UTF-8 bytes, in lower-case hexadecimal. Handed in: core has no cryptography of its own. */
export type Sha256 = (text: string) => string;

/**
 * JSON in the one form that every writer agrees on: RFC 8785.
 *
 * @throws Error where the value is not JSON (NaN, an infinite number, undefined).
 */
export function canonicalJson(value: unknown): string {
  const text = canonicalize(value);
  if (text === undefined) throw new Error('only JSON values have a canonical form');
  return text;
}

/** The hash of an entry: over the whole of it but the hash itself, the previous entry's hash included. */
export function hashOf(body: EntryBody, sha256: Sha256): string {
  const { seq, sessionId, kind, payload, wallMs, offsetMin, continuousMs, boot, author, commandId, prevHash } = body;
  const whole = { seq, sessionId, kind, payload, wallMs, offsetMin, continuousMs, boot, author, commandId, prevHash };
  return sha256(`${DOMAIN}\n${canonicalJson(whole)}`);
}

/** What is wrong with a chain, at the first entry where it shows; null where it holds. */
export function chainBreak(
  entries: Iterable<Entry>,
  sha256: Sha256,
  before = { seq: 0, hash: CHAIN_START },
): string | null {
  let { seq, hash } = before;
  for (const entry of entries) {
    if (entry.seq !== seq + 1) return `entry ${seq + 1} is missing: after ${seq} comes ${entry.seq}`;
    if (entry.prevHash !== hash) return `entry ${entry.seq} does not follow the entry before it`;
    if (hashOf(entry, sha256) !== entry.hash) return `entry ${entry.seq} was changed after it was written`;
    seq = entry.seq;
    hash = entry.hash;
  }
  return null;
}
