import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { z } from 'zod';
import { type Homes, keptDisplaySchema } from './placement.ts';

/** Where console and board belong, kept from one start to the next. */
export interface HomesFile {
  read(): Homes;
  /** False where the disk refuses: then it holds until the end. */
  write(homes: Homes): boolean;
}

const fileSchema = z.strictObject({
  version: z.literal(1),
  console: keptDisplaySchema.nullable(),
  board: keptDisplaySchema.nullable(),
});

const UNKNOWN: Homes = { console: null, board: null };

/** A file that cannot be used is told of and passed over: the windows stand as at a first start. */
export function homesFile(path: string, complain: (words: string) => void): HomesFile {
  return {
    read() {
      const text = contentOf(path);
      if (text === null) return UNKNOWN;
      try {
        const { console, board } = fileSchema.parse(JSON.parse(text));
        return { console, board };
      } catch {
        complain(`${path} could not be read and is passed over: console and board stand as at a first start`);
        return UNKNOWN;
      }
    },
    write(homes) {
      try {
        const aside = `${path}.new`;
        writeFileSync(aside, `${JSON.stringify({ version: 1, ...homes }, null, 2)}\n`);
        renameSync(aside, path);
        return true;
      } catch (error) {
        complain(`where console and board stand could not be kept in ${path}: ${String(error)}`);
        return false;
      }
    },
  };
}

function contentOf(path: string): string | null {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return null;
  }
}
