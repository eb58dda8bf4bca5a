/** Spaces at which no line may break: between a figure and its unit, and before a point that parts one thing from the next. */
export const keptTogether = (text: string): string =>
  text.replace(/(?<=\d) (?=(?:%|h|s|min|mg|mL|nm|J|mW)(?!\p{L}))| (?=· )/gu, '\u00a0');
