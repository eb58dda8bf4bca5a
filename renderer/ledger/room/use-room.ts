import { useState } from 'react';
import type { FindFilter } from '../../../core/ledger/find-filter.ts';
import type { SessionRow } from '../../../core/protocol/finding.ts';
import type { EntryView } from '../../../core/protocol/messages.ts';
import { REGIMENS } from '../../../core/regimen/regimens.ts';
import type { Asked } from '../../console/forms/form.ts';
import { takeHands, useHands } from '../../console/hands.ts';
import { refusalOf } from '../../console/refusal.ts';
import { askAboutPeople, whyNotDone } from '../../link/people.ts';
import { give } from '../../link/requests.ts';
import { useSnapshot } from '../../link/store.ts';
import { nameable } from '../find/filter-fields.ts';
import { useFound } from '../find/use-found.ts';
import type { Reading } from '../reading/session-reading.tsx';
import type { PartId } from './parts.ts';
import type { RoomKey } from './room-keys.ts';

/** What lies over a part of the room; null while nothing does. */
export type Over =
  | { readonly kind: 'find' | 'export' | 'verify' }
  /** `next`: the addendum that is to be written once somebody has signed in. */
  | { readonly kind: 'hands'; readonly next: Addendum | null }
  | Addendum
  | null;

interface Addendum {
  readonly kind: 'addendum';
  readonly about: EntryView;
  /** The session's last entry that was on the screen. */
  readonly seenSeq: number;
}

/** Where in the ledger room one is, and what its keys do. `onLeave` is null where the room stands alone. */
export function useRoom(onLeave: (() => void) | null) {
  const hands = useHands();
  const regimens = useSnapshot()?.regimens ?? REGIMENS;
  const [part, setPart] = useState<PartId>('sessions');
  const [filter, setFilter] = useState<FindFilter>({});
  const [led, setLed] = useState<SessionRow | null>(null);
  const [reading, setReading] = useState<Reading | null>(null);
  const [over, setOver] = useState<Over>(null);
  const found = useFound(filter);
  const row = reading?.row ?? led ?? found.rows[0] ?? null;

  const look = (asked: FindFilter): void => {
    setFilter(asked);
    setLed(null);
    setOver(null);
  };

  const askAddendum = (about: EntryView, seenSeq: number): void => {
    const next: Addendum = { kind: 'addendum', about, seenSeq };
    setOver(hands === null ? { kind: 'hands', next } : next);
  };

  /** Carries out what a form asks for; gives back why not. */
  async function carryOut(asked: Asked): Promise<readonly string[]> {
    if (asked.kind === 'hands' || asked.kind === 'people') {
      const why = asked.kind === 'people' ? whyNotDone(await askAboutPeople(asked.request)) : [];
      if (why.length > 0) return why;
      if (asked.kind === 'hands') takeHands(asked.hands);
      setOver((now) => (now !== over ? now : over?.kind === 'hands' ? over.next : null));
      return [];
    }
    if (asked.kind !== 'command' || over?.kind !== 'addendum' || reading === null || hands === null) {
      return ['sign in first: Esc, then W'];
    }
    const seen = { sessionId: reading.row.sessionId, seq: over.seenSeq };
    const why = refusalOf(await give(seen, asked.command, hands));
    if (why.length === 0) setOver((now) => (now === over ? null : now));
    return why;
  }

  const key = (name: string, words: string, does: () => void, cap = name.toUpperCase()): RoomKey => ({
    key: name,
    cap,
    words,
    does,
  });
  const find = key('f', 'find', () => setOver({ kind: 'find' }));
  const everything = key('Backspace', 'everything again', () => look({}), 'Backspace');
  const exports = key('e', 'export', () => setOver({ kind: 'export' }));
  const verify = key('v', 'verify', () => setOver({ kind: 'verify' }));
  const signIn = key('w', 'hands', () => setOver({ kind: 'hands', next: null }));
  const leave = onLeave === null ? [] : [key('Escape', 'back to the console', onLeave, 'Esc')];
  const asks = Object.keys(filter).length > 0;
  const keys: readonly RoomKey[] =
    reading !== null && part === 'sessions'
      ? [exports, signIn, key('Escape', 'all sessions', () => setReading(null), 'Esc')]
      : part === 'sessions'
        ? [find, ...(asks ? [everything] : []), exports, verify, signIn, ...leave]
        : [signIn, ...leave];

  return {
    part,
    over,
    filter,
    found,
    reading,
    row,
    hands,
    keys,
    names: nameable(regimens),
    go: setPart,
    look,
    lead: setLed,
    open: (opened: SessionRow): void => {
      setLed(opened);
      setReading({ row: opened, view: 'entries', seq: null });
    },
    read: setReading,
    askAddendum,
    carryOut,
    back: (): void => setOver(null),
  };
}
