import type { WholeReading } from '../../../core/protocol/verifying.ts';
import { recordTime } from '../../../core/time/show.ts';

/** What a reading of the whole ledger says, for a person. */
export interface Verdict {
  readonly sound: boolean;
  readonly words: string;
  /** What was proved, or what is wrong, one thing a line. */
  readonly lines: readonly string[];
}

/** `withAnchor`: it was held against one that was kept elsewhere. Times are shown as `offsetMin` ahead of UTC. */
export function verdictOf(reading: WholeReading, withAnchor: boolean, offsetMin: number): Verdict {
  if ('unreadable' in reading)
    return { sound: false, words: 'it could not be read through', lines: [reading.unreadable] };
  const { sound, entries, headSeq, problems, problemCount } = reading;
  if (sound) {
    return {
      sound,
      words: `sound: ${entries.toLocaleString('en-GB')} ${entries === 1 ? 'entry' : 'entries'} read, up to entry ${headSeq}`,
      lines: [
        'every entry’s hash fits its content, and each follows the one before it; none is left out',
        'every session can be gone through from its first entry to its last, step by step',
        'the file’s pages, its tables and the guards in it are as they should be',
        withAnchor
          ? 'it still has the entry that the anchor was taken of: nothing before that was changed or cut away'
          : 'that nothing was cut off its end, only an anchor that was kept elsewhere can show',
      ],
    };
  }
  const others = problemCount - problems.length;
  return {
    sound,
    words: `not sound: ${problemCount} ${problemCount === 1 ? 'thing is' : 'things are'} wrong`,
    lines: [
      ...problems.map((problem) => problemWords(problem, offsetMin)),
      ...(others > 0 ? [`and ${others} more, which “ledger verify” names`] : []),
      'write nothing into this file by hand; keep it, and a copy of its folder, and have both looked at',
    ],
  };
}

function problemWords(
  { seq, what, since }: { seq: number | null; what: string; since: string | null },
  offsetMin: number,
): string {
  const where = seq === null ? 'the file' : `entry ${seq}`;
  const until =
    since === null ? 'nothing before it is sound' : `all was sound until ${recordTime(Date.parse(since), offsetMin)}`;
  return `${where}: ${what}; ${until}`;
}
