import { z } from 'zod';
import { canonicalJson, entrySchema, type Sha256 } from '../../ledger/entry.ts';
import { PRACTICE_MARK } from '../marks.ts';

/** First thing in the file: what it is, so that it is taken for nothing else. */
export const CHAIN_FORMAT = 'dimroom chain export 1';

const hex64 = z.string().regex(/^[0-9a-f]{64}$/);
const seq = z.number().int().positive();

/** Everything but the entries: it is written first, and the digest covers it. */
export const chainHeadSchema = z.strictObject({
  format: z.literal(CHAIN_FORMAT),
  /** In words, on what is practice; null otherwise. */
  practice: z.literal(PRACTICE_MARK).nullable(),
  /** Whose sessions these are, where it was asked for by patient. */
  patientCode: z.string().nullable(),
  /** Identity of the ledger's file, as its first entry names it. */
  fileId: z.string().min(1),
  /** The ledger's last entry when this was taken, and the same as one word. */
  head: z.strictObject({ seq, hash: hex64 }),
  anchor: z.string(),
  sessions: z.array(
    z.strictObject({
      sessionId: z.string(),
      practice: z.boolean(),
      entries: z.number().int().nonnegative(),
      firstSeq: seq,
      lastSeq: seq,
    }),
  ),
  /** Sessions of the patient that are not in here, and why. */
  leftOut: z.array(z.strictObject({ sessionId: z.string(), why: z.string() })),
  /** Entries that are damaged in the ledger, and so are not in here. */
  unreadable: z.array(z.strictObject({ seq, says: z.string() })),
  proves: z.array(z.string()),
  onlyTheLedgerProves: z.array(z.string()),
});

/**
 * Entries of the ledger between those in here, by their hashes alone: what they say concerns others. The last of each
 * run is what the next entry names as its predecessor.
 */
export const gapSchema = z.strictObject({ fromSeq: seq, toSeq: seq, hashes: z.array(hex64) });

export const chainExportSchema = z.strictObject({
  ...chainHeadSchema.shape,
  entries: z.array(entrySchema),
  /** Null where they were not asked for. */
  gaps: z.array(gapSchema).nullable(),
  /** SHA-256 over all the rest, the entries by their hashes. */
  digest: hex64,
});

export type ChainHead = z.infer<typeof chainHeadSchema>;
export type Gap = z.infer<typeof gapSchema>;
export type ChainExport = z.infer<typeof chainExportSchema>;

export function digestOf(
  head: ChainHead,
  entryHashes: readonly string[],
  gaps: readonly Gap[] | null,
  sha256: Sha256,
): string {
  return sha256(`${CHAIN_FORMAT} digest\n${canonicalJson({ head, entryHashes, gaps })}`);
}

/** What reading a chain export through shows by itself. */
export const PROVES: readonly string[] = [
  'each entry is as it was hashed: its hash is computed anew over all of it',
  'neighbouring entries follow one another, and with the gaps the hashes between them are those the entries name',
  'the sessions, folded from their first entry, are possible as written',
  'nothing in this file was changed by somebody who did not also compute its hashes anew',
];

/** What it cannot show. */
export const ONLY_THE_LEDGER_PROVES: readonly string[] = [
  'that no entry of a session was left out where others stand between',
  'that the entries withheld as gaps hash to what is written here',
  'that the whole was not written anew, hashes and all: hold it against the ledger, or an anchor kept elsewhere',
];
