import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** The file at a path, or every file under it, in order; none where there is nothing. */
export function filesAt(path) {
  if (!existsSync(path)) return [];
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path)
    .sort()
    .flatMap((name) => filesAt(join(path, name)));
}
