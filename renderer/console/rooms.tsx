import type { ComponentType } from 'react';
import { Ledger } from '../ledger/ledger.tsx';
import { PeopleRoom } from '../people/people-room.tsx';
import { SettingsRoom } from '../settings/settings-room.tsx';
import { LanguageHere } from '../words/language-here.ts';
import type { RoomName } from './panel.ts';

const ROOMS: Record<RoomName, ComponentType<{ readonly onLeave: () => void }>> = {
  ledger: Ledger,
  settings: SettingsRoom,
  people: PeopleRoom,
};

/** A room in the place of the tasks. The ledger speaks English, whatever the console does. */
export function RoomInside({ name, onLeave }: { name: RoomName; onLeave: () => void }) {
  const Room = ROOMS[name];
  if (name !== 'ledger') {
    return (
      <div className="columns-ledger">
        <Room onLeave={onLeave} />
      </div>
    );
  }
  return (
    <div className="columns-ledger" lang="en">
      <LanguageHere value="en">
        <Room onLeave={onLeave} />
      </LanguageHere>
    </div>
  );
}
