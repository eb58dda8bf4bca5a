import { useState } from 'react';
import type { SessionRow } from '../../core/protocol/messages.ts';
import { useKeys } from '../parts/use-keys.ts';
import { EntryList } from './entry-list.tsx';
import { SessionList } from './session-list.tsx';
import './ledger.css';

interface LedgerProps {
  /** Within the console: goes back to it. */
  readonly onLeave?: () => void;
}

/** Every session and every entry, as written. Nothing here changes anything. */
export function Ledger({ onLeave }: LedgerProps) {
  const [row, setRow] = useState<SessionRow | null>(null);
  const [at, setAt] = useState(0);
  useKeys((event) => {
    if (event.key !== 'Escape') return;
    if (row !== null) setRow(null);
    else onLeave?.();
  });
  const alone = onLeave === undefined;
  const Place = alone ? 'main' : 'section';
  return (
    <Place className={alone ? 'ledger ledger-alone' : 'ledger'} aria-label="ledger">
      {row === null ? (
        <SessionList at={at} onAt={setAt} onOpen={setRow} inside={!alone} />
      ) : (
        <EntryList row={row} onLeave={() => setRow(null)} />
      )}
    </Place>
  );
}
