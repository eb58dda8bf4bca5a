import { createHash } from 'node:crypto';
import { CHAIN_START, type Entry, hashOf } from '../core/ledger/entry.ts';
import type { Command, CommandKind, CommandOf, Eye } from '../core/procedure/commands.ts';
import { duesOf } from '../core/procedure/dues.ts';
import { eventOf, type SessionEvent } from '../core/procedure/events.ts';
import { BUILT_IN } from '../core/procedure/findings.ts';
import { type Person, STATION_AUTHOR } from '../core/procedure/person.ts';
import { openSession, ruleOn, type Session, sessionAfter } from '../core/procedure/session.ts';
import { DEFAULT_SETTINGS, type Settings } from '../core/settings/settings.ts';
import type { Moment } from '../core/time/moment.ts';

/**
 * Sessions for tests, by short verbs. `infusing()` is a session that has just begun to infuse; `readyFor('beam-on')`
 * one in which everything is done that the beam waits for, at the instant `atOf('beam-on')`; `give` enters one more
 * command, after whatever came due before it. All take the steps of a course: `ONE_EYE` unless said.
 */

export const NURSE: Person = { initials: 'MO', role: 'nurse' };
export const SECOND_NURSE: Person = { initials: 'TK', role: 'nurse' };
export const OPERATOR: Person = { initials: 'RV', role: 'operator' };

/** The machine had been up for an hour when the session was opened: no instant is right because it counts from 0. */
export const OPENED_AT_MS = 3_600_000;
/** When the pump is started in the courses below. */
export const T0_AT_MS = OPENED_AT_MS + 600_000;
const WALL_OF_CONTINUOUS_ZERO_MS = Date.UTC(2031, 2, 3, 8, 0, 0);

/** The station's clock at a continuous instant: one boot, local time an hour ahead of UTC. */
export const momentAt = (atMs: number): Moment => ({
  continuousMs: atMs,
  boot: 'boot-one',
  wallMs: WALL_OF_CONTINUOUS_ZERO_MS + Math.round(atMs),
  offsetMin: 60,
});

/** One command of a course: when and by whom. `name` tells checks and eyes apart, as `consent` or `drops:right`. */
export interface Step {
  readonly name: string;
  readonly atMs: number;
  readonly by: Person;
  readonly command: Command;
}

export const RIGHT = { eye: 'right', gldUm: 2600 } as const;
export const LEFT = { eye: 'left', gldUm: 1850 } as const;

/** A second computation that comes to another weight than the first. */
export const OTHER_WEIGHT: Command = {
  kind: 'second-check',
  heightCm: 168,
  weightKg: 81.5,
  regimenId: 'label',
  lesions: [RIGHT],
};

export const ALL_NO: CommandOf<'screen'>['answers'] = {
  hypersensitivity: 'no',
  porphyria: 'no',
  'hepatic-severe': 'no',
  'hepatic-moderate': 'no',
  pregnant: 'no',
  'breast-feeding': 'no',
  'recent-vision-loss': 'no',
  'too-soon': 'no',
  anaesthesia: 'no',
  photosensitisers: 'no',
  uptake: 'no',
  'surgery-soon': 'no',
};

/** A whole treatment as it ought to go, every command after the one before it. */
export const ONE_EYE: readonly Step[] = courseOf([RIGHT]);
export const TWO_EYES: readonly Step[] = courseOf([RIGHT, LEFT]);

export type LesionOnRetina = Extract<CommandOf<'order'>['lesions'][number], { gldUm: number }>;

export function courseOf(
  lesions: LesionOnRetina[],
  regimenId = 'label',
  ordered: Partial<CommandOf<'order'>> = {},
): readonly Step[] {
  const measures = { heightCm: 168, weightKg: 71.5 };
  return [
    step(10, { kind: 'identify', patientCode: 'K-2041', birthDate: '1951-03-02' }),
    step(20, { kind: 'check', item: 'consent' }),
    step(40, { ...orderOf(lesions, regimenId), ...ordered }),
    ...(lesions.length > 1 ? [step(45, { kind: 'check', item: 'aggressive-first' })] : []),
    step(70, { kind: 'screen', answers: ALL_NO }),
    step(90, { kind: 'measure', ...measures }),
    step(150, { kind: 'second-check', ...measures, regimenId, lesions }, SECOND_NURSE),
    step(300, { kind: 'prepare', reconstitutedAgoS: 300 }),
    step(310, { kind: 'drug', lot: 'A1027', expires: '2099-12-31' }),
    step(315, { kind: 'check', item: 'inspected' }),
    step(318, { kind: 'check', item: 'd5w-only' }),
    step(325, { kind: 'check', item: 'sound-heard' }),
    step(340, { kind: 'check', item: 'time-out' }),
    step(420, { kind: 'prime-line' }),
    step(430, { kind: 'line', lineMl: 1.5, primedWith: 'diluent' }),
    step(435, { kind: 'check', item: 'filter' }),
    step(440, { kind: 'check', item: 'blood-return' }),
    step(450, { kind: 'check', item: 'patency' }),
    step(600, { kind: 'start-pump' }),
    step(1200, { kind: 'begin-flush' }),
    step(1260, { kind: 'end-flush', flushMl: 5 }),
    ...lesions.flatMap((lesion, index) => lightSteps(lesion, index === 0 ? 1500 : 1640)),
    step(1750, { kind: 'end-light' }, OPERATOR),
    step(1760, { kind: 'check', item: 'bracelet' }),
    step(1820, { kind: 'check', item: 'sheet-given' }),
    step(1850, { kind: 'reactions', words: 'none seen or told' }),
    step(1860, { kind: 'review', reviewDate: '2099-03-01' }),
    step(1880, { kind: 'discharge' }),
  ];
}

/** The order of a course, with what off-label regimens and two eyes need besides. */
export function orderOf(lesions: LesionOnRetina[], regimenId = 'label'): CommandOf<'order'> {
  return {
    kind: 'order',
    regimenId,
    lesions,
    orderedBy: 'the ordering physician',
    ...(regimenId === 'label' ? {} : { offLabelReason: 'chronic disease, half of the drug is enough' }),
    ...(lesions.length > 1 ? { earlierTreatment: 'tolerated' } : {}),
  };
}

/** The laser's settings as planned for a lesion, seen through a lens of factor 1.5. */
export function settingsFor({ eye, gldUm }: { eye: Eye; gldUm: number }): CommandOf<'read-back'> {
  const setSpotUm = (gldUm + 1000) / 1.5;
  const laser = { laserLensFactor: 1.5, setSpotUm, irradianceMwPerCm2: 600, exposureS: 83 };
  return { kind: 'read-back', eye, lensFactor: 1.5, ...laser };
}

function lightSteps(lesion: { eye: Eye; gldUm: number }, onS: number): Step[] {
  const { eye } = lesion;
  return [
    step(onS - 40, settingsFor(lesion), OPERATOR),
    step(onS - 35, { kind: 'check', item: 'drops', eye }, OPERATOR),
    step(onS - 20, { kind: 'check', item: 'lens-on', eye }, OPERATOR),
    step(onS - 15, { kind: 'check', item: 'eye-time-out', eye }, OPERATOR),
    step(onS, { kind: 'beam-on', eye }, OPERATOR),
    { ...step(onS + 83, { kind: 'beam-off', endedByLaser: true }, OPERATOR), name: `beam-off:${eye}` },
  ];
}

function step(atS: number, command: Command, by = NURSE): Step {
  const eye = 'eye' in command && command.eye !== undefined ? `:${command.eye}` : '';
  const name = `${command.kind === 'check' ? command.item : command.kind}${eye}`;
  return { name, atMs: OPENED_AT_MS + atS * 1000, by, command };
}

export const opened = (settings: Partial<Settings> = {}, practice = false): Session =>
  openSession({
    sessionId: 'session-one',
    practice,
    settings: { ...DEFAULT_SETTINGS, ...settings },
    at: momentAt(OPENED_AT_MS),
    by: NURSE,
  });

/** Enters everything that has come due by `atMs`, each at its own instant. */
export function ring(session: Session, atMs: number): Session {
  return ringing(session, atMs).session;
}

/** Enters a command after everything that came due before it. Throws with what is missing where it is refused. */
export function give(session: Session, command: Command, atMs: number, by = NURSE): Session {
  return play([{ name: command.kind, atMs, by, command }], session);
}

/** What a command waits for, in the words a person would see; nothing where it would be taken. */
export function missing(session: Session, command: Command, atMs: number, by = NURSE): string[] {
  const ruling = ruleOn(ring(session, atMs), command, momentAt(atMs), by);
  return ruling.taken ? [] : ruling.missing.map((one) => one.text);
}

/** Gives step after step. */
export function play(steps: readonly Step[], from = opened(), house = BUILT_IN): Session {
  return played(steps, from, house).session;
}

/** The same, with every event that was entered on the way, the clock's included. */
export function played(
  steps: readonly Step[],
  from = opened(),
  house = BUILT_IN,
): { session: Session; events: SessionEvent[] } {
  const events: SessionEvent[] = [];
  let session = from;
  for (const { command, atMs, by } of steps) {
    const rung = ringing(session, atMs);
    const ruling = ruleOn(rung.session, command, momentAt(atMs), by, house);
    if (!ruling.taken) throw new Error(`${command.kind}: ${ruling.missing.map((one) => one.text).join('; ')}`);
    events.push(...rung.events, ruling.event);
    session = ruling.session;
  }
  return { session, events };
}

/** The same, with the events that were entered. */
export function ringing(from: Session, atMs: number): { session: Session; events: SessionEvent[] } {
  const events: SessionEvent[] = [];
  let session = from;
  for (let [due] = duesOf(session.context); due !== undefined && due.dueAtMs <= atMs; [due] = duesOf(session.context)) {
    const event = eventOf(due, {}, momentAt(due.dueAtMs), STATION_AUTHOR);
    const after = sessionAfter(session, event);
    if (after === null) throw new Error(`${due.kind} came due and is not taken`);
    if (events.length > 20) throw new Error(`${due.kind} comes due again and again`);
    events.push(event);
    session = after;
  }
  return { session, events };
}

function indexOf(name: string, steps: readonly Step[]): number {
  const index = steps.findIndex((one) => one.name === name || one.command.kind === name);
  if (index < 0) throw new RangeError(`no step of this course is called "${name}"`);
  return index;
}

/** The steps before the one of that name or kind, without those named in `without`. */
export function stepsBefore(name: string, steps = ONE_EYE, without: readonly string[] = []): Step[] {
  for (const left of without) indexOf(left, steps);
  return steps.slice(0, indexOf(name, steps)).filter((one) => !without.includes(one.name));
}

/** A session in which all is done that a step waits for, but what is named in `without`; due instants are entered. */
export function readyFor(name: string, without: readonly string[] = [], steps = ONE_EYE): Session {
  return ring(play(stepsBefore(name, steps, without)), atOf(name, steps));
}

/** When a step is given in a course. */
export const atOf = (name: string, steps = ONE_EYE): number => stepOf(name, steps).atMs;
export const commandOf = (name: string, steps = ONE_EYE): Command => stepOf(name, steps).command;

export function stepOf(name: string, steps = ONE_EYE): Step {
  const found = steps[indexOf(name, steps)];
  if (found === undefined) throw new RangeError(`no step of this course is called "${name}"`);
  return found;
}

/** A session at the moment after a step. */
export const after = (name: string, steps = ONE_EYE): Session => play(steps.slice(0, indexOf(name, steps) + 1));

export const planned = (steps = ONE_EYE): Session => readyFor('prepare', [], steps);
export const prepared = (steps = ONE_EYE): Session => after('prepare', steps);
export const primed = (steps = ONE_EYE): Session => after('prime-line', steps);
export const infusing = (steps = ONE_EYE): Session => after('start-pump', steps);
export const flushing = (steps = ONE_EYE): Session => after('begin-flush', steps);
export const waiting = (steps = ONE_EYE): Session => after('end-flush', steps);
export const beamOn = (steps = ONE_EYE): Session => after('beam-on:right', steps);
export const beamOff = (steps = ONE_EYE): Session => after('beam-off:right', steps);
export const inAfterCare = (steps = ONE_EYE): Session => after('end-light', steps);
export const discharged = (steps = ONE_EYE): Session => after('discharge', steps);

/** Held from `atMs` on: two minutes into the infusion unless said. */
export const held = (steps = ONE_EYE, atMs = T0_AT_MS + 120_000): Session =>
  give(infusing(steps), { kind: 'hold', reason: 'pain' }, atMs);

/** Stopped early at `atMs`, whatever was under way. */
export const stopped = (session: Session, atMs: number): Session =>
  give(session, { kind: 'stop-early', reason: 'the physician stops the treatment' }, atMs);

export const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');

/** The steps of a course with another command in one of them. */
export function instead(name: string, command: Command, steps = ONE_EYE): Step[] {
  const index = indexOf(name, steps);
  return steps.map((one, at) => (at === index ? { ...one, command } : one));
}

/** A session's events as entries of a ledger: the opening first, each chained to the one before it. */
export function entriesOf(events: readonly SessionEvent[]): Entry[] {
  const payload = { practice: false, settings: DEFAULT_SETTINGS };
  const opening = entryDraft('open-session', payload, momentAt(OPENED_AT_MS), NURSE);
  const drafts = events.map(({ type, content, found, at, by }) => {
    const { kind: _kind, ...fields } = content;
    return entryDraft(type, Object.keys(found).length === 0 ? fields : { ...fields, found }, at, by);
  });
  return chained([opening, ...drafts]);
}

export type EntryDraft = Omit<Entry, 'seq' | 'prevHash' | 'hash'>;

function entryDraft(kind: string, payload: Entry['payload'], at: Moment, author: Entry['author']): EntryDraft {
  const commandId = author.role === 'station' ? null : `command-${kind}-${at.continuousMs}`;
  return { sessionId: 'session-one', kind, payload, ...at, author, commandId };
}

/** Entries in the order given, numbered and chained. */
export function chained(drafts: readonly EntryDraft[]): Entry[] {
  const entries: Entry[] = [];
  for (const draft of drafts) {
    const body = { ...draft, seq: entries.length + 1, prevHash: entries.at(-1)?.hash ?? CHAIN_START };
    entries.push({ ...body, hash: hashOf(body, sha256) });
  }
  return entries;
}

/** Any command of a kind, well formed for the courses above. For tests that ask about every kind in turn. */
export function sampleOf(kind: CommandKind): Command {
  return SAMPLES[kind];
}

const SAMPLES: Record<CommandKind, Command> = {
  ...(Object.fromEntries(ONE_EYE.map(({ command }) => [command.kind, command])) as Record<CommandKind, Command>),
  hold: { kind: 'hold', reason: 'pain' },
  resume: { kind: 'resume' },
  'set-back': { kind: 'set-back', agoS: 8 },
  trouble: { kind: 'trouble', card: 'chest-or-faint' },
  'trouble-told': { kind: 'trouble-told', card: 'chest-or-faint', words: 'fainted for a minute, well afterwards' },
  looked: { kind: 'looked', pump: 'ran on' },
  'cue-heard': { kind: 'cue-heard', cue: 'infusion-end' },
  'beam-set-back': { kind: 'beam-set-back', edge: 'on', agoS: 5 },
  check: { kind: 'check', item: 'consent' },
  uncheck: { kind: 'uncheck', item: 'consent', reason: 'the form is not signed' },
  note: { kind: 'note', words: 'patient is calm' },
  deviation: { kind: 'deviation', words: 'the lamp was on', reason: 'the blind is broken' },
  'stop-early': { kind: 'stop-early', reason: 'the patient asks to stop' },
  addendum: { kind: 'addendum', words: 'the patient rang: all well', reason: 'called the day after' },
};
