import type { SessionView } from '../protocol/view.ts';
import { type Occurrence, openOccurrences, repeatingNow, soundedUntil } from './cue-occurrences.ts';
import { CUE_TABLE } from './cue-table.ts';
import type { SessionRecord } from './record.ts';

/** The cues of a session as its screens see them. */
export function cuesShown(record: SessionRecord): SessionView['cues'] {
  return openOccurrences(record).map((one) => ({
    cue: one.cue,
    words: wordsOf(one),
    firstAtMs: one.firstAtMs,
    soundedUntilAtMs: soundedUntil(record, one.cue),
  }));
}

/** What can be hushed now, the one that began last first. */
export function hushableNow(record: SessionRecord, atMs: number): SessionView['hushable'] {
  return repeatingNow(record, atMs)
    .sort((one, other) => other.firstAtMs - one.firstAtMs)
    .map((one) => ({ cue: one.cue, words: wordsOf(one) }));
}

const wordsOf = ({ cue, eye }: Occurrence): string => {
  const { words } = CUE_TABLE[cue];
  return eye === null ? words : `${eye} eye: ${words}`;
};
