import type { FindFilter } from '../../../core/ledger/find-filter.ts';
import { lastDays, monthBefore } from './days.ts';

/** What auditors look for again and again. */
export interface QuickChoice {
  readonly words: string;
  /** As of an instant of wall time. */
  readonly filter: (wallMs: number) => FindFilter;
}

/** Each chosen by its number. */
export const QUICK_CHOICES: readonly QuickChoice[] = [
  {
    words: 'last month’s late light starts',
    filter: (wallMs) => ({ ...monthBefore(wallMs, 1), deviation: 'light-late' }),
  },
  { words: 'last month, whatever deviates', filter: (wallMs) => ({ ...monthBefore(wallMs, 1), deviation: 'any' }) },
  { words: 'this month, whatever deviates', filter: (wallMs) => ({ ...monthBefore(wallMs, 0), deviation: 'any' }) },
  { words: 'the last seven days', filter: (wallMs) => lastDays(wallMs, 7) },
];
