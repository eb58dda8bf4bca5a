/** A number from 0 up to 1 that a text always has: FNV-1a, 32 bits, its last bits mixed in once more. */
export function part(sessionId: string, about: string): number {
  let hash = 0x811c9dc5;
  for (const letter of `${about} ${sessionId}`) hash = Math.imul(hash ^ (letter.codePointAt(0) ?? 0), 0x01000193);
  hash ^= hash >>> 15;
  hash = Math.imul(hash, 0x2c1b3c6d);
  hash ^= hash >>> 13;
  return (hash >>> 0) / 2 ** 32;
}
