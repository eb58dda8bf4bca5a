import { type Duty, mayDo, whoseWork } from '../../../core/people/duties.ts';
import { asPerson, type RosterPerson } from '../../../core/people/roster.ts';
import type { Person } from '../../../core/procedure/person.ts';
import type { Request } from '../../../core/protocol/messages.ts';

/**
 * What each request needs of whoever is at the screen it comes from: a duty; `signed in`; or `nobody`, which is little:
 * to see the present, to say what became of a cue, and to sign in. A request that is not here does not compile.
 */
const NEEDS = {
  hello: 'nobody',
  front: 'nobody',
  cue: 'nobody',
  'at-hand': 'nobody',
  'print-quick-card': 'nobody',
  'sign-in': 'nobody',
  'sign-out': 'nobody',
  'first-administrator': 'nobody',
  recover: 'nobody',
  'cancel-export': 'nobody',
  open: 'open-session',
  command: 'by its kind',
  print: 'print sheets',
  find: 'read sessions',
  reading: 'read sessions',
  clinic: 'read sessions',
  entries: 'read sessions',
  export: 'read sessions',
  'export-part': 'read sessions',
  verify: 'look after the ledger',
  places: 'look after the ledger',
  'print-anchor': 'look after the ledger',
  'settings-history': 'signed in',
  'own-pin': 'signed in',
  'change-roster': 'administer',
  'give-pin': 'administer',
  'change-settings': 'administer',
  'read-settings': 'administer',
} as const satisfies Record<Request['type'], Duty | 'nobody' | 'signed in' | 'by its kind'>;

interface AtScreen {
  readonly hands: RosterPerson | null;
  /** Signed in beside the hands, for one second computation. */
  readonly second: RosterPerson | null;
  /** On the continuous clock. */
  readonly lastTouchedAtMs: number;
}

const NOBODY: AtScreen = { hands: null, second: null, lastTouchedAtMs: 0 };
const SIGN_IN = 'nobody is signed in here: sign in, then press again';

/** Who is signed in at which screen, and what may be asked from there. Held in memory: a station begun anew knows nobody. */
export class Gate {
  private readonly screens = new Map<string, AtScreen>();

  handsAt(screen: string): RosterPerson | null {
    return this.at(screen).hands;
  }

  take(screen: string, person: RosterPerson, as: 'hands' | 'second', atMs: number): void {
    const now = as === 'hands' ? { hands: person, second: null } : { ...this.at(screen), second: person };
    this.screens.set(screen, { ...now, lastTouchedAtMs: atMs });
  }

  /** Returns whose hands they were. */
  letGo(screen: string): RosterPerson | null {
    const { hands } = this.at(screen);
    this.screens.delete(screen);
    return hands;
  }

  touched(screen: string, atMs: number): void {
    const now = this.screens.get(screen);
    if (now !== undefined) this.screens.set(screen, { ...now, lastTouchedAtMs: atMs });
  }

  /** Screens whose hands have not moved for so long. */
  idle(atMs: number, idleMs: number): string[] {
    return [...this.screens]
      .filter(([, { hands, lastTouchedAtMs }]) => hands !== null && atMs - lastTouchedAtMs > idleMs)
      .map(([screen]) => screen);
  }

  /** Whoever is signed in goes by the roster as it is now: who has left is no longer here. */
  follow(people: readonly RosterPerson[]): void {
    const now = (person: RosterPerson | null): RosterPerson | null =>
      people.find((one) => one.active && one.personId === person?.personId) ?? null;
    for (const [screen, { hands, second, lastTouchedAtMs }] of this.screens)
      this.screens.set(screen, { hands: now(hands), second: now(second), lastTouchedAtMs });
  }

  /** Why a request is not answered here; null where it may be. */
  whyNot(screen: string, request: Request): string | null {
    const need = needOf(request);
    if (need === 'nobody') return null;
    const { hands, second } = this.at(screen);
    const doer = 'by' in request ? ([hands, second].find((one) => isBy(one, request.by)) ?? null) : hands;
    if (doer === null) return hands !== null && 'by' in request ? notTheirs(request.by) : SIGN_IN;
    if (doer !== hands && need !== 'second-check') return notTheirs(asPerson(doer));
    return need === 'signed in' || mayDo(doer, need) ? null : whoseWork(need);
  }

  /** A second person's word holds for the one computation it was given for. */
  used(screen: string, request: Request): void {
    if (request.type !== 'command' || request.command.kind !== 'second-check') return;
    this.screens.set(screen, { ...this.at(screen), second: null });
  }

  private at(screen: string): AtScreen {
    return this.screens.get(screen) ?? NOBODY;
  }
}

function needOf(request: Request): Duty | 'nobody' | 'signed in' {
  const need = NEEDS[request.type];
  if (need !== 'by its kind') return need;
  return request.type === 'command' ? request.command.kind : 'administer';
}

const isBy = (person: RosterPerson | null, { initials, role }: Person): boolean =>
  person !== null && person.initials === initials && person.role === role;

const notTheirs = ({ initials }: Person): string => `${initials} is not signed in here: sign in, then press again`;
