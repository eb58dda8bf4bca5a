import { randomUUID } from 'node:crypto';
import { failedAgain, waitMs } from '../../../core/people/attempts.ts';
import { mayDo } from '../../../core/people/duties.ts';
import {
  asPerson,
  personBy,
  type Roster,
  type RosterChange,
  type RosterPerson,
  RosterRefused,
  rosterAfter,
} from '../../../core/people/roster.ts';
import type { Person } from '../../../core/procedure/person.ts';
import { type PeopleFile, PeopleUnreadable } from './people-file.ts';
import { newRecoveryCode, plainCode } from './recovery-code.ts';
import { COST, type Cost, recognises, verifierOf } from './verifier.ts';

/** What is refused, as a sentence for the person. Nothing changed. */
export class PeopleRefused extends Error {}

/** Where what happened to people is entered: the roster is what the last of these says. */
export interface PeopleLedger {
  /** The roster as the ledger has it; null where it has none yet. */
  roster(): Roster | null;
  enter(kind: string, payload: Record<string, unknown>, by: Person | null): void;
}

interface Needs {
  readonly file: PeopleFile;
  readonly ledger: PeopleLedger;
  readonly wallMs: () => number;
  readonly cost?: Cost;
}

/** The recovery code's wrong ones are counted with those of initials that nobody can have. */
const RECOVERY = 'recovery';
/** Of initials nobody has, only the newest are counted: nobody fills the file by making them up. */
const MOST_ATTEMPTS = 300;

/**
 * The people of a station: who is on the roster, and whether a PIN is theirs. PINs are looked at one after the other, so
 * that many at once are counted like as many in a row; a wrong one is on disk before it is answered.
 */
export class People {
  private readonly file: PeopleFile;
  private readonly ledger: PeopleLedger;
  private readonly wallMs: () => number;
  private readonly cost: Cost;
  private turn: Promise<unknown> = Promise.resolve();
  private unreadable: string | null = null;

  constructor({ file, ledger, wallMs, cost = COST }: Needs) {
    this.file = file;
    this.ledger = ledger;
    this.wallMs = wallMs;
    this.cost = cost;
    if (ledger.roster() === null) this.takeFromFile();
  }

  roster(): Roster {
    return this.ledger.roster() ?? [];
  }

  /** Whether there are people, or may be: a file that cannot be used makes nobody the first. */
  begun(): boolean {
    return this.roster().length > 0 || this.unreadable !== null;
  }

  /** What is wrong with the file of people at the start, in words; null where nothing is. */
  trouble(): string | null {
    return this.unreadable;
  }

  /** @throws PeopleRefused where this is not their PIN, or has to wait. */
  signIn(initials: string, pin: string): Promise<RosterPerson> {
    return this.inTurn(async () => {
      const person = personBy(this.roster(), initials);
      const verifier = person === null ? null : (this.file.read().pins[person.personId] ?? null);
      await this.look(initials, (secret) => recognises(verifier, secret, this.cost), pin, person);
      if (person === null) throw new PeopleRefused(WRONG);
      return person;
    });
  }

  /**
   * The first administrator of a ledger without a roster. Returns the recovery code.
   *
   * @throws PeopleRefused where there is a roster already.
   */
  begin(first: Pick<RosterPerson, 'name' | 'initials' | 'role'>, pin: string): Promise<string> {
    return this.inTurn(async () => {
      if (this.roster().length > 0 || this.file.read().roster.length > 0)
        throw new PeopleRefused('there is an administrator already: sign in');
      const change: RosterChange = { change: 'join', ...first, administers: true };
      const code = newRecoveryCode();
      const personId = randomUUID();
      const people = rosterAfter([], change, personId);
      const pins = { [personId]: await verifierOf(pin, this.cost) };
      const recovery = await verifierOf(plainCode(code), this.cost);
      this.file.write({ version: 1, roster: people, pins, recovery, attempts: {} });
      this.ledger.enter(
        'roster',
        { change, people },
        asPerson({ ...first, personId, administers: true, active: true }),
      );
      return code;
    });
  }

  /** @throws PeopleRefused where the roster does not take it, or somebody who joins is given no PIN. */
  change(change: RosterChange, pin: string | undefined, by: Person): Promise<void> {
    return this.inTurn(async () => {
      if (change.change === 'join' && pin === undefined) throw new PeopleRefused('choose a first PIN for them');
      const personId = randomUUID();
      const people = this.after(change, personId);
      const kept = this.file.read();
      const pins =
        change.change === 'join' && pin !== undefined ? { [personId]: await verifierOf(pin, this.cost) } : {};
      // The PIN first: somebody on the roster without one could not sign in, one without a place there does no harm.
      this.file.write({ ...kept, pins: { ...kept.pins, ...pins }, roster: people });
      this.ledger.enter('roster', { change, people }, by);
    });
  }

  /** @throws PeopleRefused where nobody is known by that identity. */
  givePin(personId: string, pin: string, by: Person): Promise<void> {
    return this.inTurn(async () => {
      const person = this.roster().find((one) => one.personId === personId);
      if (person === undefined) throw new PeopleRefused('that person is not in the roster: look at it again');
      await this.keepPin(person, pin);
      this.ledger.enter('pin-given', { initials: person.initials }, by);
    });
  }

  /** @throws PeopleRefused where the present PIN is not right, or has to wait. */
  async ownPin(by: Person, pin: string, newPin: string): Promise<void> {
    const person = await this.signIn(by.initials, pin);
    await this.inTurn(async () => {
      await this.keepPin(person, newPin);
      this.ledger.enter('pin-given', { initials: person.initials }, by);
    });
  }

  /**
   * A new PIN for an administrator, against the code from the safe. That code is then used up; returns the next one.
   *
   * @throws PeopleRefused where the code is not right, has to wait, or the initials are no administrator's.
   */
  recover(code: string, initials: string, pin: string): Promise<string> {
    return this.inTurn(async () => {
      const { recovery } = this.file.read();
      await this.look(RECOVERY, (secret) => recognises(recovery, secret, this.cost), plainCode(code), null);
      const person = personBy(this.roster(), initials);
      if (person === null || !mayDo(person, 'administer'))
        throw new PeopleRefused('these are not the initials of an administrator on the roster');
      const next = newRecoveryCode();
      const verifier = await verifierOf(plainCode(next), this.cost);
      await this.keepPin(person, pin);
      this.file.write({ ...this.file.read(), recovery: verifier });
      this.ledger.enter('recovered', { initials }, null);
      return next;
    });
  }

  /** Counted as wrong first, on disk, and only then looked at: pulling the plug in between gains nothing. */
  private async look(
    countedAs: string,
    isRight: (secret: string) => Promise<boolean>,
    secret: string,
    person: RosterPerson | null,
  ): Promise<void> {
    const kept = this.file.read();
    const before = kept.attempts[countedAs];
    const leftMs = waitMs(before, this.wallMs());
    if (leftMs > 0) throw new PeopleRefused(`too many wrong ones: wait ${Math.ceil(leftMs / 1000)} s, then try again`);
    const counted = failedAgain(before, this.wallMs());
    this.file.write({ ...kept, attempts: newest({ ...kept.attempts, [countedAs]: counted }) });
    if (await isRight(secret)) {
      const { [countedAs]: _right, ...attempts } = kept.attempts;
      this.file.write({ ...kept, attempts });
      return;
    }
    const { failures } = counted;
    this.ledger.enter('sign-in-refused', { initials: person?.initials ?? null, failures }, null);
    throw new PeopleRefused(countedAs === RECOVERY ? 'that is not the recovery code' : WRONG);
  }

  private async keepPin({ personId, initials }: RosterPerson, pin: string): Promise<void> {
    const verifier = await verifierOf(pin, this.cost);
    const kept = this.file.read();
    const { [initials]: _forgiven, ...attempts } = kept.attempts;
    this.file.write({ ...kept, pins: { ...kept.pins, [personId]: verifier }, attempts });
  }

  /** A ledger without a roster: begun just now, or anew after damage. A bad file must not keep the clock from starting. */
  private takeFromFile(): void {
    try {
      const { roster } = this.file.read();
      if (roster.length > 0) this.ledger.enter('roster', { from: 'the file of people', people: roster }, null);
    } catch (error) {
      if (!(error instanceof PeopleUnreadable)) throw error;
      this.unreadable = error.message;
    }
  }

  private after(change: RosterChange, personId: string): Roster {
    try {
      return rosterAfter(this.roster(), change, personId);
    } catch (error) {
      if (error instanceof RosterRefused) throw new PeopleRefused(error.message);
      throw error;
    }
  }

  private inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = this.turn.then(work);
    this.turn = done.catch(() => {});
    return done;
  }
}

/** One sentence for initials that nobody has and for a PIN that is not theirs: it tells neither. */
const WRONG = 'initials and PIN do not belong together: try again';

type AttemptsBy = ReturnType<PeopleFile['read']>['attempts'];

const newest = (attempts: AttemptsBy): AttemptsBy =>
  Object.fromEntries(
    Object.entries(attempts)
      .sort(([, one], [, other]) => other.lastWallMs - one.lastWallMs)
      .slice(0, MOST_ATTEMPTS),
  );
