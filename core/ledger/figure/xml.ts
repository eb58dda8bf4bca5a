/** Text for an element or an attribute of XML 1.0; what XML has no letters for is left out. */
export function escaped(text: string): string {
  return [...text]
    .filter(isLetter)
    .map((letter) => ENTITIES[letter] ?? letter)
    .join('');
}

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };

/** The `Char` production of XML 1.0. */
function isLetter(letter: string): boolean {
  const code = letter.codePointAt(0) ?? 0;
  if (code < 0x20) return code === 0x09 || code === 0x0a || code === 0x0d;
  return code < 0xd800 || (code > 0xdfff && code !== 0xfffe && code !== 0xffff);
}
