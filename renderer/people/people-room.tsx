import { useState } from 'react';
import { administersAll, type RosterPerson } from '../../core/people/roster.ts';
import type { WhoMay } from '../../core/protocol/people.ts';
import type { Asked, Form } from '../console/forms/form.ts';
import { useHands } from '../console/hands.ts';
import { keepTyping } from '../ledger/room/keep-typing.ts';
import { KeyLine } from '../ledger/room/key-line.tsx';
import { RoomForm } from '../ledger/room/room-form.tsx';
import { type RoomKey, useRoomKeys } from '../ledger/room/room-keys.ts';
import { Row } from '../ledger/room/row.tsx';
import { useRowKeys } from '../ledger/room/row-keys.ts';
import { askAboutPeople, whyNotDone } from '../link/people.ts';
import { useSnapshot } from '../link/store.ts';
import { describeForm, givePinForm, joinForm, leaveForm, ownPinForm } from './people-forms.ts';
import '../ledger/ledger.css';
import '../ledger/room/room.css';
import './people.css';

interface Over {
  readonly form: Form;
  readonly openedBy: string;
  readonly done: string;
}

/** Who may sign in here. What an administrator may do is closed to others by the station, and not offered to them. */
export function PeopleRoom({ onLeave }: { onLeave: () => void }) {
  const whoMay = useSnapshot()?.whoMay;
  const hands = useHands();
  const people = whoMay?.kind === 'roster' ? [...whoMay.people].sort(byPlace) : [];
  const [at, setAt] = useState(0);
  const [over, setOver] = useState<Over | null>(null);
  const [said, setSaid] = useState('');
  const chosen = people[Math.min(at, people.length - 1)];
  const own = people.find(({ initials, active }) => active && initials === hands?.initials);
  const administers = own !== undefined && administersAll(own);

  const open = (openedBy: string, form: Form | null, done: string): void => {
    setSaid('');
    if (form !== null) setOver({ form, openedBy, done });
  };
  async function carryOut(asked: Asked): Promise<readonly string[]> {
    if (asked.kind !== 'people') return [];
    const why = whyNotDone(await askAboutPeople(asked.request));
    if (why.length === 0) {
      setSaid(over?.done ?? '');
      setOver((now) => (now === over ? null : now));
    }
    return why;
  }
  const of = (make: (person: RosterPerson) => Form): Form | null => (chosen === undefined ? null : make(chosen));
  const key = (name: string, words: string, does: () => void): RoomKey => ({
    key: name,
    cap: name.toUpperCase(),
    words,
    does,
  });
  const keys: readonly RoomKey[] = [
    ...(administers
      ? [
          key('n', 'somebody joins', () => open('n', joinForm, 'on the roster')),
          key('p', 'a new PIN', () => open('p', of(givePinForm), 'the new PIN is given')),
          key('x', chosen?.active === false ? 'comes back' : 'leaves', () => open('x', of(leaveForm), 'entered')),
        ]
      : []),
    ...(own === undefined ? [] : [key('m', 'my own PIN', () => open('m', ownPinForm, 'your PIN is changed'))]),
    { key: 'Escape', cap: 'Esc', words: 'back to the console', does: onLeave },
  ];
  return (
    <section className="ledger people" aria-label="people" onKeyDown={keepTyping}>
      <header className="room-head">
        <h1 className="title">people</h1>
        <p className="room-who">{hands === null ? 'nobody signed in' : `${hands.initials}, ${hands.role}`}</p>
      </header>
      {over === null ? (
        <>
          <p className="people-about">{aboutWords(whoMay)}</p>
          <PeopleList
            people={people}
            at={Math.min(at, people.length - 1)}
            onAt={setAt}
            onOpen={administers ? () => open('Enter', of(describeForm), 'entered') : null}
            keys={keys}
            said={said}
          />
        </>
      ) : (
        <RoomForm form={over.form} openedBy={over.openedBy} onAsked={carryOut} onLeave={() => setOver(null)} />
      )}
    </section>
  );
}

interface PeopleListProps {
  readonly people: readonly RosterPerson[];
  readonly at: number;
  readonly onAt: (at: number) => void;
  /** Null for whoever may change nobody. */
  readonly onOpen: (() => void) | null;
  readonly keys: readonly RoomKey[];
  readonly said: string;
}

function PeopleList({ people, at, onAt, onOpen, keys, said }: PeopleListProps) {
  useRoomKeys(keys);
  const enter = onOpen && { words: 'change it', does: onOpen };
  const told = useRowKeys({ at, rows: people.length, onAt, enter });
  return (
    <>
      <ol className="rows" aria-label="roster">
        {people.map((person, place) => (
          <li key={person.personId}>
            <PersonLine person={person} here={place === at} onPress={() => onAt(place)} />
          </li>
        ))}
      </ol>
      <p className="room-said" role="status">
        {said}
      </p>
      <KeyLine keys={keys} told={people.length === 0 ? [] : told} />
    </>
  );
}

function PersonLine({ person, here, onPress }: { person: RosterPerson; here: boolean; onPress: () => void }) {
  const { initials, name, role, administers, active } = person;
  return (
    <Row look="person-row" here={here} onPress={onPress}>
      <span className="row-ink" translate="no">
        {initials}
      </span>
      <span translate="no">{name}</span>
      <span>{role}</span>
      <span>{administers && role !== 'administrator' ? 'administers too' : ''}</span>
      <span>{active ? '' : 'has left'}</span>
    </Row>
  );
}

/** Those who are here first, each by initials. */
const byPlace = (one: RosterPerson, other: RosterPerson): number =>
  Number(other.active) - Number(one.active) || one.initials.localeCompare(other.initials);

function aboutWords(whoMay: WhoMay | undefined): string {
  switch (whoMay?.kind) {
    case 'roster':
      return 'Every entry is made under whoever is signed in. PINs are kept so that they can be recognised and not read.';
    case 'first run':
      return 'There is no roster yet: Esc, then W begins it with its first administrator.';
    default:
      return 'Initials are taken as typed here: practice keeps no roster.';
  }
}
