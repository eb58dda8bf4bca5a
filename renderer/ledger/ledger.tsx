import { useEffect, useEffectEvent, useState } from 'react';
import type { SessionRow } from '../../core/protocol/messages.ts';
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

/** Hears keys over the whole window, but for those with a modifier. */
export function useKeys(hear: (event: KeyboardEvent) => void): void {
  const heard = useEffectEvent((event: KeyboardEvent) => {
    if (!event.ctrlKey && !event.altKey && !event.metaKey) hear(event);
  });
  useEffect(() => {
    const listen = (event: KeyboardEvent) => heard(event);
    window.addEventListener('keydown', listen);
    return () => window.removeEventListener('keydown', listen);
  }, []);
}
