import { existsSync } from 'node:fs';
import { basename, join, parse } from 'node:path';

/** A path in a folder that no file has yet: the name itself, or the name with the first free number. */
export function freePath(folder: string, fileName: string): string {
  const { name, ext } = parse(basename(fileName));
  const named = (count: number): string => join(folder, `${name}${count === 1 ? '' : ` (${count})`}${ext}`);
  let count = 1;
  while (existsSync(named(count))) count += 1;
  return named(count);
}
