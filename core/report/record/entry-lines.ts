import { wordsFor } from '../../ledger/words.ts';
import type { SessionRecord } from '../../procedure/record.ts';
import { calendarDate, clockTime, recordTime } from '../../time/show.ts';
import type { Extract } from '../extract.ts';
import { secondsFromT0 } from '../from-start.ts';

/** One entry as it is printed. */
export interface EntryLine {
  readonly seq: number;
  readonly time: string;
  /** With the offset the entry was written under. */
  readonly date: string;
  /** Minutes and seconds from the pump's start; empty without one. */
  readonly fromT0: string;
  readonly by: string;
  readonly role: string;
  readonly words: string;
  readonly hash: string;
}

export function entryLines({ entries }: Extract, record: SessionRecord): EntryLine[] {
  const fromT0S = secondsFromT0(entries, record);
  return entries.map((entry, index) => ({
    seq: entry.seq,
    time: clockTime(entry.wallMs, entry.offsetMin, true),
    date: `${calendarDate(entry.wallMs, entry.offsetMin)} ${recordTime(entry.wallMs, entry.offsetMin).slice(-6)}`,
    fromT0: fromT0Words(fromT0S[index] ?? null),
    by: entry.author.initials,
    role: entry.author.role === 'station' ? '' : entry.author.role,
    words: wordsFor(entry),
    hash: entry.hash,
  }));
}

/** To a tenth of a second, truncated towards the start, as `+15:00.0`. */
function fromT0Words(seconds: number | null): string {
  if (seconds === null) return '';
  const tenths = Math.trunc(Math.abs(seconds) * 10);
  const minutes = Math.floor(tenths / 600);
  const rest = ((tenths % 600) / 10).toFixed(1).padStart(4, '0');
  return `${seconds < 0 && tenths > 0 ? '−' : '+'}${minutes}:${rest}`;
}
