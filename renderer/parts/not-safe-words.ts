import type { Snapshot } from '../../core/protocol/messages.ts';

type NotYetSafe = NonNullable<Snapshot['notYetSafe']>;

/** That entries are not on the ledger's disk, how many, and why: for console and board. */
export const notSafeWords = ({ entries, why }: NotYetSafe, since = ''): string =>
  `${entries} ${entries === 1 ? 'entry is' : 'entries are'} not yet safe${since}: ${why}`;
