import { useHands } from '../console/hands.ts';
import { useSnapshot } from '../link/store.ts';
import { KeyList } from '../parts/key-list.tsx';
import { ClinicPage } from './clinic/clinic-page.tsx';
import { ExportPanel } from './exports/export-panel.tsx';
import { FindPanel } from './find/find-panel.tsx';
import { SessionList, totalWords } from './find/session-list.tsx';
import { PrivacyPage } from './privacy/privacy-page.tsx';
import { addendumTo } from './reading/addendum-form.ts';
import { SessionReading } from './reading/session-reading.tsx';
import { roomHandsForm } from './room/hands-form.ts';
import { keepTyping } from './room/keep-typing.ts';
import { RoomForm } from './room/room-form.tsx';
import { RoomHead } from './room/room-head.tsx';
import { useRoom } from './room/use-room.ts';
import { VerifyPanel } from './verify/verify-panel.tsx';
import './ledger.css';
import './print.css';

interface LedgerProps {
  /** Within the console: goes back to it. */
  readonly onLeave?: () => void;
}

/** The auditor's room: every session and every entry, as written. Nothing here changes what is there. */
export function Ledger({ onLeave }: LedgerProps) {
  const hands = useHands();
  const whoMay = useSnapshot()?.whoMay.kind;
  // Before the station has said who may, it is not known what to ask of whoever is here.
  const door = whoMay === undefined ? 'unheard' : whoMay !== 'as typed' && hands === null ? 'closed' : 'open';
  // What one person may read is not there for the next: where people sign in, the room begins anew with each.
  return <Room key={whoMay === 'as typed' ? '' : `${whoMay} ${hands?.initials}`} onLeave={onLeave} door={door} />;
}

interface RoomProps {
  readonly onLeave: (() => void) | undefined;
  /** `closed`: nobody is signed in who may read. */
  readonly door: 'unheard' | 'closed' | 'open';
}

function Room({ onLeave, door }: RoomProps) {
  const room = useRoom(onLeave ?? null);
  const practice = useSnapshot()?.practice ?? false;
  const alone = onLeave === undefined;
  const Place = alone ? 'main' : 'section';
  return (
    <Place className={alone ? 'ledger ledger-alone' : 'ledger'} aria-label="ledger" onKeyDown={keepTyping}>
      <RoomHead room={room} practice={practice} alone={alone} />
      {door === 'closed' && <SignIn room={room} onLeave={onLeave} />}
      {door === 'open' && <Inside room={room} />}
      <p className="unseen" role="status">
        {room.part === 'sessions' && room.reading === null ? totalWords(room.found) : ''}
      </p>
      {alone && <KeyList />}
    </Place>
  );
}

function SignIn({ room, onLeave }: { room: ReturnType<typeof useRoom>; onLeave: (() => void) | undefined }) {
  return <RoomForm form={roomHandsForm} openedBy="g" onAsked={room.carryOut} onLeave={onLeave ?? (() => {})} />;
}

function Inside({ room }: { room: ReturnType<typeof useRoom> }) {
  const { over, part, reading, found, filter, names, keys } = room;
  switch (over?.kind) {
    case 'find':
      return <FindPanel filter={filter} names={names} onFilter={room.look} onLeave={room.back} />;
    case 'export':
      return <ExportPanel row={room.row} onLeave={room.back} />;
    case 'verify':
      return <VerifyPanel onLeave={room.back} />;
    case 'hands':
      return <RoomForm key="hands" form={roomHandsForm} openedBy="w" onAsked={room.carryOut} onLeave={room.back} />;
    case 'addendum':
      return (
        <RoomForm
          key="addendum"
          form={addendumTo(over.about)}
          openedBy="a"
          onAsked={room.carryOut}
          onLeave={room.back}
        />
      );
  }
  if (part === 'clinic') return <ClinicPage filter={filter} keys={keys} />;
  if (part === 'privacy') return <PrivacyPage keys={keys} />;
  if (reading !== null) {
    return <SessionReading reading={reading} onReading={room.read} onAddendum={room.askAddendum} keys={keys} />;
  }
  return (
    <SessionList
      found={found}
      filter={filter}
      names={names}
      at={room.row?.sessionId ?? null}
      onAt={room.lead}
      onOpen={room.open}
      keys={keys}
    />
  );
}
