import type { CommandKind } from '../procedure/commands.ts';
import type { Role } from '../procedure/person.ts';
import { administersAll, type RosterPerson } from './roster.ts';

/**
 * Which role may do what. Local practice, no source: who may do which step is for the site's own rules and the law of
 * the place; this table only keeps a hand that slips, or a page that lies, from what is not its work. What happened can
 * always be told by whoever treats: notes, deviations, holds, troubles and the end of a treatment are for all of them.
 */
const TREATING: readonly Role[] = ['nurse', 'operator', 'physician'];
const DRUG: readonly Role[] = ['nurse', 'physician'];
const ANYONE: readonly Role[] = ['nurse', 'operator', 'physician', 'auditor', 'administrator'];

export const COMMAND_DUTIES = {
  'cue-heard': TREATING,
  'open-session': DRUG,
  identify: DRUG,
  order: DRUG,
  screen: DRUG,
  measure: DRUG,
  'second-check': TREATING,
  prepare: DRUG,
  drug: DRUG,
  'prime-line': DRUG,
  line: DRUG,
  'start-pump': DRUG,
  hold: TREATING,
  resume: TREATING,
  'set-back': TREATING,
  'begin-flush': DRUG,
  'end-flush': DRUG,
  'read-back': TREATING,
  'beam-on': TREATING,
  'beam-off': TREATING,
  'beam-set-back': TREATING,
  'end-light': TREATING,
  trouble: TREATING,
  'trouble-told': TREATING,
  looked: TREATING,
  reactions: TREATING,
  review: DRUG,
  discharge: DRUG,
  check: TREATING,
  uncheck: TREATING,
  note: TREATING,
  deviation: TREATING,
  'stop-early': TREATING,
  addendum: ANYONE,
} as const satisfies Record<CommandKind | 'open-session', readonly Role[]>;

/** What can be asked of the station besides commands, and who may ask it. */
export const READING_DUTIES = {
  /** Sessions of every patient, their entries, files and sheets of them. */
  'read sessions': ['nurse', 'physician', 'auditor'],
  /** Sheets for the session at hand. */
  'print sheets': TREATING,
  /** Is the ledger whole, where is it kept, its anchor. */
  'look after the ledger': ANYONE,
  /** Roster, PINs of others, settings of the site. */
  administer: ['administrator'],
} as const satisfies Record<string, readonly Role[]>;

export type Duty = keyof typeof READING_DUTIES | keyof typeof COMMAND_DUTIES;

type Doer = Pick<RosterPerson, 'role' | 'administers'>;

export function mayDo(person: Doer, duty: Duty): boolean {
  if (duty === 'administer') return administersAll(person);
  const roles: readonly Role[] =
    duty in COMMAND_DUTIES ? COMMAND_DUTIES[duty as CommandKind] : READING_DUTIES[duty as keyof typeof READING_DUTIES];
  return roles.includes(person.role) || (person.administers && roles.includes('administrator'));
}

/** Whose work it is, in words. */
export function whoseWork(duty: Duty): string {
  const roles: readonly Role[] = { ...COMMAND_DUTIES, ...READING_DUTIES }[duty];
  const [last, ...others] = [...roles].reverse();
  const named = others.length === 0 ? String(last) : `${others.reverse().join(', ')} or ${last}`;
  return `that is for ${named}: have one of them sign in`;
}
