import { join } from 'node:path';
import { type Roster, rosterSchema } from '../../../core/people/roster.ts';
import { STATION_AUTHOR } from '../../../core/procedure/person.ts';
import type { Message } from '../../../core/protocol/messages.ts';
import type { Clock } from '../clock.ts';
import type { Desk } from '../desk.ts';
import type { Options } from '../options.ts';
import type { Ledger } from '../steadfast-ledger.ts';
import { People, type PeopleLedger } from './people.ts';
import { peopleFile } from './people-file.ts';
import { receptionOf } from './reception.ts';

interface Of {
  readonly desk: Desk;
  readonly ledger: Ledger;
  readonly clock: Clock;
  readonly idleLockMin: () => number;
  readonly tell: (screen: string, message: Message) => void;
  readonly onChanged: () => void;
}

const MINUTE_MS = 60_000;
const PEOPLE_FILE = 'people.json';

/** The reception of a station, and what is wrong with its file of people. In practice, initials are taken as typed: practice is nobody's record. */
export function receptionIn(options: Options, { desk, ledger, clock, idleLockMin, tell, onChanged }: Of) {
  const asTyped = options.practice || options['as-typed'];
  const people = asTyped
    ? null
    : new People({
        file: peopleFile(join(options.data, PEOPLE_FILE)),
        ledger: peopleLedger(desk, ledger),
        wallMs: () => clock.now().wallMs,
      });
  const reception = receptionOf({
    people,
    enter: (kind, payload, by) => desk.note(kind, payload, by ?? STATION_AUTHOR),
    nowMs: () => clock.now().continuousMs,
    idleMs: () => idleLockMin() * MINUTE_MS,
    tell,
    onChanged,
  });
  desk.admits(reception.whoMay);
  const trouble = people?.trouble() ?? null;
  return { reception, trouble: trouble === null ? [] : [trouble] };
}

/** The roster is what the last entry about it says, and is read once. */
function peopleLedger(desk: Desk, ledger: Ledger): PeopleLedger {
  let roster = rosterIn(ledger);
  return {
    roster: () => roster,
    enter: (kind, payload, by) => {
      desk.note(kind, payload, by ?? STATION_AUTHOR);
      if (kind === 'roster') roster = rosterSchema.parse(payload.people);
    },
  };
}

/** An entry that was changed behind the ledger's back decides nothing: then the file's copy holds. */
function rosterIn(ledger: Ledger): Roster | null {
  try {
    const entry = ledger.lastOfKind('roster');
    return entry === null ? null : rosterSchema.parse(entry.payload.people);
  } catch {
    return null;
  }
}
