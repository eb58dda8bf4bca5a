import type { WholeReading } from '../../core/protocol/verifying.ts';
import { askVerify } from './requests.ts';

/** Has the whole ledger read, and gives what that came to; null once nobody waits for it any more. */
export async function readThrough(
  anchor: string | null,
  onShare: (share: number) => void,
  signal: AbortSignal,
): Promise<WholeReading | { readonly says: string } | null> {
  const run = crypto.randomUUID();
  for (;;) {
    const answer = await askVerify(run, anchor);
    if (signal.aborted) return null;
    if (answer.type === 'error') return { says: answer.says };
    onShare(answer.share);
    if (answer.reading !== null) return answer.reading;
  }
}
