import { KeyCap } from '../../parts/key-cap.tsx';
import { openKeyHelp } from '../../parts/key-help.ts';
import { PARTS } from './parts.ts';
import { Tabs } from './tabs.tsx';
import type { useRoom } from './use-room.ts';
import './room.css';

interface RoomHeadProps {
  readonly room: ReturnType<typeof useRoom>;
  readonly practice: boolean;
  /** No console stands around it, whose foot would say how to ask for the keys. */
  readonly alone: boolean;
}

/** Where one is, and whose hands are here. */
export function RoomHead({ room: { part, over, reading, hands, go }, practice, alone }: RoomHeadProps) {
  const among = over === null && !(part === 'sessions' && reading !== null);
  return (
    <header className="room-head">
      <h1 className="title">ledger</h1>
      {among && <Tabs tabs={PARTS} at={part} onGo={go} label="parts of the ledger" />}
      <p className="room-who">
        {practice && <span className="practice-mark">PRACTICE</span>}{' '}
        {hands === null ? 'nobody signed in' : `${hands.initials}, ${hands.role}`}
      </p>
      {alone && (
        <button type="button" className="room-key" onClick={openKeyHelp}>
          <KeyCap cap="?" /> keys
        </button>
      )}
    </header>
  );
}
