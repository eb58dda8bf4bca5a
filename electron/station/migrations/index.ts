import { entries } from './0001-entries.ts';
import { ofTheStation } from './0002-of-the-station.ts';

/** In order; the number of those applied is the file's `user_version`. A migration that has shipped is never edited. */
export const MIGRATIONS: readonly string[] = [entries, ofTheStation];
