import type { Settings } from '../../../core/settings/settings.ts';
import { figureReader } from './entries.ts';

/** The most that the record takes at all, s. */
const RECORD_TAKES_S = 300;

/** The largest late press that this site sets back, s. */
export const latestS = ({ latePressS }: Settings): number => Math.min(RECORD_TAKES_S, latePressS);

/** Seconds before the press, as typed; faults go to the reader. */
export function readAgoS(typed: string | undefined, settings: Settings, reader = figureReader()): number {
  const max = latestS(settings);
  if (max >= 1) return reader.figure('agoS', typed, 'time before the press', { min: 1, max }, 's');
  reader.wrong('agoS', 'this site sets nothing back: leave by Esc, and enter it as a deviation (V)');
  return Number.NaN;
}
