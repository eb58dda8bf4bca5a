/** Something that has a name people type. */
export interface Named {
  readonly id: string;
  readonly words: string;
}

export type Match<N extends Named> =
  | { readonly ok: true; readonly one: N }
  | { readonly ok: false; readonly says: string };

/**
 * The one thing that typed words name: by its id, by its whole name, or by the beginnings of words of its name, in any
 * order, where they are of no other: `late light` is `light begun late`.
 */
export function matchWords<N extends Named>(typed: string, among: readonly N[], what: string): Match<N> {
  const text = typed.trim().toLowerCase();
  const exact = among.find(({ id, words }) => id.toLowerCase() === text || words.toLowerCase() === text);
  if (exact !== undefined) return { ok: true, one: exact };
  const [first, ...others] = matching(text, among);
  if (first === undefined) return { ok: false, says: `no ${what} is called so: for example ${examples(among)}` };
  if (others.length === 0) return { ok: true, one: first };
  return { ok: false, says: `could be ${examples([first, ...others])}: type more of it` };
}

export function matching<N extends Named>(typed: string, among: readonly N[]): N[] {
  const begun = typed.trim().toLowerCase().split(/\s+/);
  return among.filter(({ words }) => {
    const parts = words.toLowerCase().split(/[^\p{L}\p{N}]+/u);
    return begun.every((beginning) => parts.some((part) => part.startsWith(beginning)));
  });
}

const EXAMPLES = 3;

const examples = (among: readonly Named[]): string =>
  `${among
    .slice(0, EXAMPLES)
    .map(({ words }) => words)
    .join(', ')}${among.length > EXAMPLES ? ', …' : ''}`;
