import { thrownWords } from '../practice/thrown.ts';
import { CHECKS, type Check } from '../procedure/checks.ts';
import { apart } from '../procedure/conditions.ts';
import { CUE_TABLE } from '../procedure/cue-table.ts';
import type { Found } from '../procedure/events.ts';
import { TROUBLE } from '../procedure/trouble.ts';
import { changeWords } from '../settings/value-words.ts';
import { minutesSeconds } from '../time/show.ts';
import type { Entry } from './entry.ts';

type Payload = Entry['payload'];

/** What an entry says, in one plain sentence. A kind this version does not know is shown by its name. */
export function wordsFor({ kind, payload }: Pick<Entry, 'kind' | 'payload'>): string {
  const sentence = SENTENCES[kind]?.(payload) ?? kind.replaceAll('-', ' ');
  const override = payload.override as { reason?: string } | undefined;
  const found = payload.found as { missing?: string[] } | undefined;
  const missing = found?.missing ?? [];
  return override === undefined || missing.length === 0
    ? sentence
    : `${sentence}, although ${missing.join('; ')}. Reason: ${override.reason ?? ''}`;
}

const checkWords = (payload: Payload): string => {
  const check = (CHECKS as readonly Check[]).find((one) => one.id === payload.item);
  const words = check?.words ?? String(payload.item);
  return payload.eye === undefined ? words : `${payload.eye} eye: ${words}`;
};

const lesionWords = (payload: Payload): string =>
  ((payload.found as Found | undefined)?.lesions ?? []).map((one) => `${one.eye} eye, ${one.gldUm} µm`).join('; then ');

const agreed = (payload: Payload): string => {
  const found = payload.found as Found | undefined;
  return found?.agrees
    ? 'agrees'
    : `differs: ${[apart(found?.differences ?? []), found?.says ?? ''].filter(Boolean).join('; ')}`;
};

const doseWords = (payload: Payload): string => {
  const found = payload.found as { plan?: { infusate: { doseMg: number; drugMlRounded: number } } } | undefined;
  const infusate = found?.plan?.infusate;
  return infusate === undefined
    ? ''
    : `; dose ${infusate.doseMg.toFixed(2)} mg, ${infusate.drugMlRounded.toFixed(2)} mL of drug`;
};

const cueWords = (payload: Payload): string =>
  (CUE_TABLE as Readonly<Record<string, { words: string }>>)[String(payload.cue)]?.words ?? String(payload.cue);

/** That a cue was asked of the sound card is all that is known: whether it was heard is not. */
const soundedWords = (payload: Payload): string => {
  const late = `${(Number(payload.lateMs) / 1000).toFixed(1)} s late`;
  const became = { sounded: 'sounded', late: `sounded ${late}`, silent: 'not sounded' }[String(payload.outcome)];
  return `cue ${became ?? payload.outcome}: ${cueWords(payload)}`;
};

const cardWords = (payload: Payload): string =>
  TROUBLE.find((card) => card.id === payload.card)?.words ?? String(payload.card);

const askedWords = (payload: Payload): string => {
  const asked = payload.asked as string[] | undefined;
  return asked === undefined || asked.length === 0
    ? ''
    : ` (asked about, and confirmed: ${asked.join(', ').replaceAll('-', ' ')})`;
};

const afterWords = (payload: Payload): string =>
  (payload.found as Found | undefined)?.afterDifference ? ', after a difference had been shown' : '';

const leftWords = (payload: Payload): string => {
  const leftMg = (payload.found as Found | undefined)?.notDeliveredMg ?? 0;
  return leftMg > 0 ? `: ${leftMg.toFixed(2)} mg stayed in the line` : '';
};

/** Each setting with what it was; of a file, its name. */
const settingsWords = (payload: Payload): string => {
  const changes = (payload.changes ?? []) as { name: string; before: unknown; after: unknown }[];
  const file = payload.file as { name: string } | undefined;
  const from = file === undefined ? payload.from : `${file.name}, on the settings screen`;
  const changed = changes.length === 0 ? '' : `: ${changes.map(changeWords).join('; ')}`;
  return `site settings, from ${from}${changed}${payload.reason === undefined ? '' : `. Reason: ${payload.reason}`}`;
};

const rosterWords = (payload: Payload): string => {
  const people = (payload.people ?? []) as { personId: string; initials: string; name: string; role: string }[];
  const change = payload.change as { change: string; initials?: string; personId?: string } | undefined;
  const who = people.find(({ initials, personId }) => initials === change?.initials || personId === change?.personId);
  const named = who === undefined ? '' : `${who.initials}, ${who.name}, ${who.role}`;
  const became = { join: 'joins', describe: 'is now', leave: 'has left', return: 'is back' }[String(change?.change)];
  return became === undefined ? `roster taken from ${payload.from}` : `roster: ${became} ${named}`;
};

const SENTENCES: Record<string, (payload: Payload) => string> = {
  'open-session': (payload) => (payload.practice ? 'practice session opened' : 'session opened'),
  identify: (payload) => `patient ${payload.patientCode}, born ${payload.birthDate}`,
  order: (payload) =>
    [
      `ordered by ${payload.orderedBy}: ${(payload.found as Found | undefined)?.regimen?.name}, ${lesionWords(payload)}`,
      payload.offLabelReason === undefined ? '' : `, off label, because: ${payload.offLabelReason}`,
      doseWords(payload),
    ].join(''),
  screen: (payload) => {
    const answers = Object.entries(payload.answers as Record<string, string>);
    const yes = answers.filter(([, answer]) => answer === 'yes').map(([id]) => id.replaceAll('-', ' '));
    return yes.length === 0 ? 'screening: all answered no' : `screening: yes to ${yes.join(', ')}`;
  },
  measure: (payload) => `${payload.heightCm} cm, ${payload.weightKg} kg${askedWords(payload)}${doseWords(payload)}`,
  'second-check': (payload) => `second computation ${agreed(payload)}${afterWords(payload)}`,
  prepare: (payload) => {
    const agoS = Number(payload.reconstitutedAgoS);
    return `drug made up, reconstituted ${minutesSeconds(agoS * 1000).text} before`;
  },
  drug: (payload) => `vial lot ${payload.lot}, expires ${payload.expires}`,
  'prime-line': () => 'line primed and clamped, vein placed',
  line: (payload) => `line holds ${payload.lineMl} mL, primed with ${payload.primedWith}`,
  'start-pump': () => 'pump on: T0 of both timers',
  hold: (payload) => `infusion held: ${[payload.reason, payload.words].filter(Boolean).join(', ')}`,
  resume: () => 'infusion resumed',
  'set-back': (payload) => `pump had started ${payload.agoS} s before the press: T0 set back`,
  'begin-flush': () => 'pump off, flush begun',
  'end-flush': (payload) => `flush done, ${payload.flushMl} mL${leftWords(payload)}`,
  'read-back': (payload) =>
    `${payload.eye} eye, laser shows spot ${payload.setSpotUm} µm, lens × ${payload.lensFactor}, in the laser × ${payload.laserLensFactor}, ` +
    `${payload.powerMw === undefined ? `${payload.irradianceMwPerCm2} mW/cm²` : `${payload.powerMw} mW`}, ${payload.exposureS} s: ${agreed(payload)}`,
  'beam-on': (payload) => `beam on, ${payload.eye} eye`,
  'beam-off': (payload) => (payload.endedByLaser ? 'beam off, ended by the laser' : 'beam off'),
  'end-light': () => 'light done',
  trouble: (payload) => `trouble: ${cardWords(payload)}`,
  'trouble-told': (payload) => `about ${cardWords(payload)}: ${payload.words}`,
  reactions: (payload) => `reactions: ${payload.words}`,
  review: (payload) => `review on ${payload.reviewDate}`,
  discharge: () => 'discharged',
  check: (payload) => `confirmed: ${checkWords(payload)}`,
  uncheck: (payload) => `taken back: ${checkWords(payload)}. Reason: ${payload.reason}`,
  note: (payload) => `note: ${payload.words}`,
  deviation: (payload) => `deviation: ${payload.words}. Reason: ${payload.reason}`,
  'stop-early': (payload) => `stopped early: ${payload.reason}`,
  addendum: ({ entrySeq, words, reason }) =>
    `addendum${entrySeq === undefined ? '' : ` to entry ${entrySeq}`}: ${words}. Reason: ${reason}`,
  'infusion-due': () => 'infusion has run its planned time',
  'flush-due': () => 'flush has run its time',
  'light-due': () => 'light window open',
  'exposure-due': (payload) => `${payload.eye} eye: ordered light given`,
  'second-eye-due': () => 'last moment to begin the second eye',
  'drug-expiry-due': () => 'drug has reached its 4 h in use',
  'cue-heard': (payload) => `heard, not to sound again: ${cueWords(payload)}`,
  'cue-sounded': (payload) => soundedWords(payload),
  slept: (payload) =>
    `this computer slept for ${(Number(payload.sleptMs) / 1000).toFixed(0)} s (by wall time ${(Number(payload.byWallMs) / 1000).toFixed(0)} s)`,
  looked: (payload) => `looked at the pump after the computer's sleep: it ${payload.pump}`,
  'beam-set-back': (payload) => `beam had gone ${payload.edge} ${payload.agoS} s before the press`,
  'clock-stepped': (payload) =>
    `the computer's clock stepped by ${(Number(payload.byMs) / 1000).toFixed(0)} s: not counted with`,
  'zone-changed': (payload) => `the time zone changed from ${payload.fromMin} to ${payload.toMin} min ahead of UTC`,
  'damaged-set-aside': (payload) => `a damaged ledger was set aside in ${payload.folder}`,
  'emergency-landed': (payload) => `${payload.entries} entries kept elsewhere in an emergency are in the ledger now`,
  copied: (payload) => `second copy made: ${payload.path}, to entry ${payload.headSeq}`,
  'chain-broken': (payload) => `found wrong in this ledger: ${payload.words}`,
  rebase: () => 'instants re-based on wall time after a restart of the machine: an estimate',
  settings: settingsWords,
  roster: rosterWords,
  'pin-given': (payload) => `a new PIN for ${payload.initials}`,
  'signed-in': (payload) =>
    `signed in${payload.as === 'second' ? ' for a second computation' : ''}${payload.after === undefined ? '' : `, after ${payload.after}`}`,
  'signed-out': (payload) => `signed out: ${payload.why}`,
  'sign-in-refused': (payload) =>
    `a wrong PIN for ${payload.initials ?? 'initials nobody has'}, the ${payload.failures}. in a row`,
  recovered: (payload) => `new PIN for ${payload.initials} by the recovery code, which is changed`,
  'settings-refused': (payload) => `site settings not taken: ${payload.words}`,
  'station-started': (payload) => (payload.first ? 'ledger begun' : 'station started'),
  'window-crashed': (payload) => `window crashed: ${payload.words}`,
  'display-lost': (payload) => `second monitor lost: ${payload.words}`,
  'display-found': (payload) => `second monitor found: ${payload.words}`,
  'display-swapped': (payload) => `console and board changed places: ${payload.words}`,
  'closing-asked': (payload) => `asked to close while under way: ${payload.words}`,
  closed: (payload) => `closed: ${payload.words}`,
  'practice-trouble': thrownWords,
};
