import { asPerson, type Roster, type RosterPerson } from '../../../core/people/roster.ts';
import type { Person } from '../../../core/procedure/person.ts';
import type { Message, Request } from '../../../core/protocol/messages.ts';
import type { Hands, WhoMay } from '../../../core/protocol/people.ts';
import { Gate } from './gate.ts';
import { type People, PeopleRefused } from './people.ts';

/** Who is let do what, at every screen. */
export interface Reception {
  whoMay(): WhoMay;
  /** Why a request is not answered at this screen; null where it may be. */
  whyNot(screen: string, request: Request): string | null;
  /** A request was carried out. */
  carriedOut(screen: string, request: Request): void;
  /** Carries out what is asked about people. */
  ask(screen: string, request: AboutPeople): Promise<Message>;
  /** A screen began anew, or is gone. */
  begunAnew(screen: string): void;
  /** Ends the time of those who have been away for long. Called once a second. */
  look(): void;
}

interface Needs {
  /** Null where initials are taken as typed. */
  readonly people: People | null;
  readonly enter: (kind: string, payload: Record<string, unknown>, by: Person | null) => void;
  readonly nowMs: () => number;
  readonly idleMs: () => number;
  readonly tell: (screen: string, message: Message) => void;
  /** Something that every screen shows has changed. */
  readonly onChanged: () => void;
}

const AS_TYPED = 'initials are taken as typed here: this station keeps no roster';
const FIRST_RUN = 'this ledger has no roster yet: name its first administrator';

export function receptionOf({ people, enter, nowMs, idleMs, tell, onChanged }: Needs): Reception {
  if (people === null) return anybody();
  const gate = new Gate();
  /** A request sent again is the same request: its PIN is looked at once. */
  const answered = new Map<string, Promise<Message>>();

  function letGo(screen: string, why: string, says: string | null): void {
    const hands = gate.letGo(screen);
    if (hands === null) return;
    enter('signed-out', { why }, asPerson(hands));
    tell(screen, { type: 'hands', requestId: null, hands: null, says });
  }

  const carryOut: Carrying = {
    'sign-in': async (screen, { requestId, initials, pin, as }) => {
      const person = await people.signIn(initials, pin);
      const before = as === 'hands' ? gate.handsAt(screen) : null;
      gate.take(screen, person, as, nowMs());
      enter('signed-in', { as, ...(before === null ? {} : { after: before.initials }) }, asPerson(person));
      // Whose hands they are now: a second person's are at the keyboard for nothing but the one computation.
      const now = gate.handsAt(screen);
      return { type: 'hands', requestId, hands: now && handsOf(now), says: null };
    },
    'sign-out': async (screen, { requestId, why }) => {
      const hands = gate.letGo(screen);
      if (hands !== null) enter('signed-out', { why }, asPerson(hands));
      return { type: 'hands', requestId, hands: null, says: null };
    },
    'first-administrator': async (screen, { requestId, name, initials, role, pin }) => {
      const recoveryCode = await people.begin({ name, initials, role }, pin);
      const person = people.roster().find((one) => one.initials === initials);
      if (person !== undefined) {
        gate.take(screen, person, 'hands', nowMs());
        tell(screen, { type: 'hands', requestId: null, hands: handsOf(person), says: null });
      }
      onChanged();
      return done(requestId, recoveryCode);
    },
    'change-roster': async (screen, { requestId, change, pin }) => {
      await people.change(change, pin, byHands(gate.handsAt(screen)));
      follow(people.roster());
      return done(requestId);
    },
    'give-pin': async (screen, { requestId, personId, pin }) => {
      await people.givePin(personId, pin, byHands(gate.handsAt(screen)));
      return done(requestId);
    },
    'own-pin': async (screen, { requestId, pin, newPin }) => {
      await people.ownPin(byHands(gate.handsAt(screen)), pin, newPin);
      return done(requestId);
    },
    recover: async (_screen, { requestId, code, initials, pin }) =>
      done(requestId, await people.recover(code, initials, pin)),
  };

  function follow(roster: Roster): void {
    gate.follow(roster);
    onChanged();
  }

  return {
    whoMay: () => {
      if (!people.begun()) return { kind: 'first run' };
      return { kind: 'roster', people: [...people.roster()] };
    },
    whyNot: (screen, request) => {
      const why = gate.whyNot(screen, request);
      return why !== null && !people.begun() ? FIRST_RUN : why;
    },
    carriedOut: (screen, request) => {
      if (request.type === 'command' || request.type === 'open' || request.type === 'at-hand')
        gate.touched(screen, nowMs());
      gate.used(screen, request);
    },
    ask: (screen, request) => {
      const key = `${screen} ${request.requestId}`;
      const before = answered.get(key);
      if (before !== undefined) return before;
      const answer = answerOf(() => carriedOutBy(carryOut, screen, request), request.requestId);
      answered.set(key, answer);
      forgetOldest(answered);
      return answer;
    },
    begunAnew: (screen) => letGo(screen, 'the page began anew', null),
    look: () => {
      for (const screen of gate.idle(nowMs(), idleMs())) letGo(screen, 'idle', 'away for long: sign in anew');
    },
  };
}

/** Initials as typed: nothing is asked, and nobody can sign in. */
const anybody = (): Reception => ({
  whoMay: () => ({ kind: 'as typed' }),
  whyNot: () => null,
  carriedOut: () => {},
  ask: (_screen, { requestId }) => Promise.resolve({ type: 'error', requestId, says: AS_TYPED }),
  begunAnew: () => {},
  look: () => {},
});

const ABOUT_PEOPLE = [
  'sign-in',
  'sign-out',
  'first-administrator',
  'change-roster',
  'give-pin',
  'own-pin',
  'recover',
] as const;
export type AboutPeople = Extract<Request, { type: (typeof ABOUT_PEOPLE)[number] }>;

type Carrying = {
  [Type in AboutPeople['type']]: (screen: string, request: Extract<AboutPeople, { type: Type }>) => Promise<Message>;
};

export const isAboutPeople = (request: Request): request is AboutPeople =>
  (ABOUT_PEOPLE as readonly string[]).includes(request.type);

const carriedOutBy = <Type extends AboutPeople['type']>(
  carrying: Carrying,
  screen: string,
  request: Extract<AboutPeople, { type: Type }>,
): Promise<Message> => carrying[request.type as Type](screen, request);

async function answerOf(work: () => Promise<Message>, requestId: string): Promise<Message> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof PeopleRefused)
      return { type: 'refused', requestId, missing: [{ text: error.message, untilAtMs: null }] };
    // What failed is said; what was typed is not.
    const says = `nothing has changed: ${error instanceof Error ? error.message : String(error)}`;
    console.error(`station: ${says}`);
    return { type: 'error', requestId, says };
  }
}

const MOST_ANSWERED = 100;

function forgetOldest(answered: Map<string, unknown>): void {
  const [oldest] = answered.keys();
  if (answered.size > MOST_ANSWERED && oldest !== undefined) answered.delete(oldest);
}

const handsOf = ({ active: _, ...hands }: RosterPerson): Hands => hands;

const done = (requestId: string, recoveryCode: string | null = null): Message => ({
  type: 'people-done',
  requestId,
  recoveryCode,
});

/** The gate lets nobody through who is not signed in. */
function byHands(hands: RosterPerson | null): Person {
  if (hands === null) throw new PeopleRefused('nobody is signed in here');
  return asPerson(hands);
}
