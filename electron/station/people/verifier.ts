import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';

/** How much work one look at a secret is: RFC 7914's parameters. */
export interface Cost {
  readonly n: number;
  readonly r: number;
  readonly p: number;
}

/**
 * 64 MiB and about a fifth of a second a look. Twice the least that RFC 7914 discusses for interactive logins in 2009,
 * and as published advice for today has it (from memory: verify). A PIN has few digits whatever it costs to look at one:
 * whoever can copy the file can try them all, which is why the file is the user's alone.
 */
export const COST: Cost = { n: 2 ** 16, r: 8, p: 1 };

const base64 = z.string().regex(/^[A-Za-z0-9+/]+=*$/);

/** A secret as it can be recognised, and not read back: scrypt (RFC 7914) with its salt and its cost. */
export const verifierSchema = z.strictObject({
  n: z
    .number()
    .int()
    .positive()
    .max(2 ** 20),
  r: z.number().int().positive().max(32),
  p: z.number().int().positive().max(16),
  salt: base64,
  hash: base64,
});

export type Verifier = z.infer<typeof verifierSchema>;

const SALT_BYTES = 16;
const HASH_BYTES = 32;

export async function verifierOf(secret: string, cost: Cost = COST): Promise<Verifier> {
  const salt = randomBytes(SALT_BYTES);
  const hash = await derived(secret, salt, cost);
  return { ...cost, salt: salt.toString('base64'), hash: hash.toString('base64') };
}

/** Whether this is the secret. Without a verifier as much work is done, and the answer is no: time tells nothing. */
export async function recognises(verifier: Verifier | null, secret: string, cost: Cost = COST): Promise<boolean> {
  const { salt, hash, ...ofVerifier } = verifier ?? { ...cost, ...NOBODY };
  const offered = await derived(secret, Buffer.from(salt, 'base64'), ofVerifier);
  const same = timingSafeEqual(offered, Buffer.from(hash, 'base64'));
  return same && verifier !== null;
}

const NOBODY = {
  salt: Buffer.alloc(SALT_BYTES, 1).toString('base64'),
  hash: Buffer.alloc(HASH_BYTES, 1).toString('base64'),
};

function derived(secret: string, salt: Buffer, { n, r, p }: Cost): Promise<Buffer> {
  const options: ScryptOptions = { N: n, r, p, maxmem: 256 * n * r };
  return new Promise((resolve, reject) => {
    scrypt(secret, salt, HASH_BYTES, options, (error, key) => (error === null ? resolve(key) : reject(error)));
  });
}
