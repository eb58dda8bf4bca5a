import { type SessionRecord, stateOf } from './record.ts';

/**
 * Whether what the first person entered is withheld: until a second person's independent computation stands beside it.
 * Withheld where views and entries are made, so that no order of keys or messages shows it.
 */
export const blind = (record: SessionRecord): boolean => stateOf(record) === 'planning' && record.secondCheck === null;

/** Entries whose content is withheld while a session is blind. */
export const WITHHELD_KINDS: readonly string[] = ['order', 'measure', 'second-check'];

/** What stands in the place of what is withheld. */
export const WITHHELD = 'entered; shown once a second person has computed it too';
