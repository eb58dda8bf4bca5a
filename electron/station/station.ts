import { randomUUID } from 'node:crypto';
import { z } from 'zod';
import { canonicalJson, type Entry } from '../../core/ledger/entry.ts';
import type { ToStation } from '../../core/protocol/frames.ts';
import type { Settings } from '../../core/settings/settings.ts';
import { answer } from './answer.ts';
import { type Beside, besideOf } from './beside.ts';
import { type Clock, type SteppedClock, spedClock, steppedClock, systemClock } from './clock.ts';
import { type Copies, copiesInto } from './copies.ts';
import { Desk } from './desk.ts';
import { guidingOf } from './guiding.ts';
import { type HouseRules, readHouse } from './house.ts';
import { holdFolder } from './lock.ts';
import type { Connection } from './open-database.ts';
import { type OpenedLedger, openLedger } from './open-ledger.ts';
import type { Options } from './options.ts';
import { receptionIn } from './people/reception-in.ts';
import type { Port } from './port.ts';
import { startScheduler } from './scheduler.ts';
import { type SettingsInForce, settingsAtStart, settingsInForce } from './settings-in-force.ts';
import type { Ledger } from './steadfast-ledger.ts';
import { asleepMs, eventsBetween, type Look, sleptUnseen, type TimeEvent } from './watch.ts';
import { readWhole, troubleIn } from './whole-reading.ts';

const HEARTBEAT_MS = 1000;
/** Practice may run many times as fast: an exposure is over within seconds then. */
const THROWING_MS = 250;

/** `connection` is for tests that bring faults to it. */
export interface RunningStation {
  readonly connection: Connection;
  stop(): void;
}

/** Practice is kept in a file of its own, so that it can never be taken for treatment. */
const fileName = (practice: boolean): string => (practice ? 'practice.sqlite3' : 'ledger.sqlite3');

/**
 * Opens the ledger, takes up the sessions in it, and serves the carrier until it is told to stop.
 *
 * @throws DatabaseRefused, or SQLite's own error, where the ledger cannot be opened.
 * The clock can be handed in; the command line names one else.
 */
export function runStation(options: Options, port: Port, clock = clockFor(options)): RunningStation {
  const folder = holdFolder(options.data);
  const stamp = new Date(clock.now().wallMs).toISOString().replace(/[:.]/g, '-');
  const opened = openLedger(options.data, fileName(options.practice), options.emergency, stamp);
  const { ledger, database } = opened;
  const inForce = settingsInForce(lastSettings(ledger));
  const house = readHouse(options.data, inForce.settings, inForce.fileSha256);
  const desk = new Desk(ledger, clock, options.practice, house, inForce.seq);
  const guiding = options.guided ? guidingOf({ desk, ledger, clock }) : null;
  if (guiding !== null) desk.guidedBy(guiding.guide);
  const started = clock.look();
  const sleptBefore = sleepBefore(ledger, started);
  noteStart(desk, ledger, started);
  noteHouse(desk, inForce, house);
  const trouble = noteOpening(desk, opened);
  const copiesTo = ({ copyFolder }: Settings): Copies =>
    copiesInto(copyFolder, opened.connection, {
      onCopied: (copied) => desk.note('copied', copied),
      onTrouble: (words) => addTrouble([words]),
    });
  let copies = copiesTo(house.settings);
  void readWhole(database).then((reading) => addTrouble(troubleIn(reading)));
  const besideBy = (settings: Settings): Beside =>
    besideOf({
      ledgerFile: database,
      emergencyFolder: options.emergency,
      settings,
      headSeq: () => ledger.last()?.seq ?? 0,
    });
  let beside = besideBy(house.settings);
  let followed = house.settings;
  const { reception, trouble: peopleTrouble } = receptionIn(options, {
    desk,
    ledger,
    clock,
    idleLockMin: () => desk.settings.idleLockMin,
    tell: (screen, message) => port.send({ screen, message }),
    onChanged: () => show(),
  });
  const { sessions, trouble: notTakenUp } = desk.takeUp();
  addTrouble([...peopleTrouble, ...notTakenUp]);
  if (sleptBefore !== null) desk.noteTime(sleptBefore);

  copies.ask();

  /** Entered once, and shown until the next start. */
  function addTrouble(words: readonly string[]): void {
    const fresh = words.filter((one) => !trouble.includes(one));
    for (const one of fresh) desk.note('chain-broken', { words: one });
    trouble.push(...fresh);
    desk.troubled(trouble);
  }

  /** What works by settings that have changed works by the new ones. A file being exported is begun anew. */
  function follow(settings: Settings): void {
    if (settings === followed) return;
    const { copyFolder, limits } = followed;
    followed = settings;
    if (settings.copyFolder !== copyFolder) {
      copies = copiesTo(settings);
      copies.ask();
    }
    if (settings.copyFolder !== copyFolder || canonicalJson(settings.limits) !== canonicalJson(limits)) {
      beside.stop();
      beside = besideBy(settings);
    }
  }

  const show = (): void => port.send({ screen: '*', message: desk.snapshot() });
  const tell = (error: unknown): void => {
    const says = `an entry of the station's own is not written yet: ${error instanceof Error ? error.message : error}`;
    console.error(`station: ${says}`);
    port.send({ screen: '*', message: { type: 'error', requestId: null, says } });
  };
  const stepped = 'moveTo' in clock ? (clock as SteppedClock) : null;
  const scheduler = stepped === null ? startScheduler(desk, clock, { onRung: show, onTrouble: tell }) : null;
  const heartbeat = stepped === null ? setInterval(beat, HEARTBEAT_MS) : undefined;
  const throwing = stepped === null && guiding !== null ? setInterval(throwIn, THROWING_MS) : undefined;
  let before = clock.look();

  /** Once a second: what happened to time, what can be landed, and the present for every screen. */
  function beat(): void {
    const now = clock.look();
    try {
      for (const event of eventsBetween(before, now)) desk.noteTime(event);
      const landed = ledger.retry();
      if (landed > 0) desk.note('emergency-landed', { entries: landed });
      reception.look();
    } catch (error) {
      tell(error);
    }
    before = now;
    show();
  }

  /** In guided practice: what is due to be thrown in, shown at once. */
  function throwIn(): void {
    try {
      if (guiding?.look() === true) show();
    } catch (error) {
      tell(error);
    }
  }

  function stop(): void {
    clearInterval(heartbeat);
    clearInterval(throwing);
    scheduler?.stop();
    beside.stop();
    ledger.close();
    folder.release();
  }

  function hear(frame: ToStation): void {
    if ('message' in frame) {
      const { replies, changed } = answer(frame.message, frame.screen, { desk, ledger, beside, reception });
      if (changed) {
        follow(desk.settings);
        show();
        scheduler?.look();
        throwIn();
        if (isDischarge(frame.message)) copies.ask();
      }
      const { screen } = frame;
      for (const reply of replies) {
        if (reply instanceof Promise) void reply.then((message) => port.send({ screen, message }));
        else port.send({ screen, message: reply });
      }
    } else if ('left' in frame) {
      reception.begunAnew(frame.left);
    } else if ('report' in frame) {
      note(frame.report);
    } else if ('stop' in frame) {
      stop();
      process.exit(0);
    } else if ('advanceToMs' in frame && stepped !== null) {
      advance(desk, stepped, frame.advanceToMs);
      throwIn();
      port.send({ advanced: frame.token, nowMs: stepped.now().continuousMs });
    }
  }

  function note({ kind, words }: Extract<ToStation, { report: unknown }>['report']): void {
    try {
      desk.note(kind, { words });
    } catch (error) {
      tell(error);
    }
  }

  port.onFrame(hear);
  port.send({ ready: { database, boot: clock.now().boot, sessions } });
  show();
  return { stop, connection: opened.connection };
}

const dischargeSchema = z.looseObject({ command: z.looseObject({ kind: z.literal('discharge') }) });

/** A session that has ended is worth a fresh copy. */
const isDischarge = (message: unknown): boolean => dischargeSchema.safeParse(message).success;

function clockFor({ stepped, speed }: Options): Clock {
  if (stepped) return steppedClock();
  return speed === undefined ? systemClock() : spedClock(speed);
}

function noteStart(desk: Desk, ledger: Ledger, now: Look): void {
  const first = ledger.last() === null;
  desk.note('station-started', { first, ...(first && { file: randomUUID() }), asleepMs: asleepMs(now) });
}

/** A sleep while no station ran, in the same boot: nobody has looked at the pump since. */
function sleepBefore(ledger: Ledger, now: Look): TimeEvent | null {
  const last = ledger.lastOfBoot(now.at.boot);
  const said = ledger.lastOfSleep();
  if (last === null || said === null || said.boot !== now.at.boot) return null;
  const known = z.number().safeParse(said.payload.asleepMs);
  return known.success ? sleptUnseen({ ...last, asleepMs: known.data }, now) : null;
}

/** A damaged ledger that was set aside, and entries that had waited elsewhere: said once, and shown. */
function noteOpening(desk: Desk, { damaged, landed, trouble }: OpenedLedger): string[] {
  if (damaged !== null) desk.note('damaged-set-aside', { folder: damaged.folder, lastReadable: damaged.lastReadable });
  if (landed > 0) desk.note('emergency-landed', { entries: landed });
  for (const words of trouble) desk.note('chain-broken', { words });
  const aside =
    damaged === null
      ? []
      : [
          `The ledger was damaged and is set aside in ${damaged.folder}; a new one is begun. Sessions open then are not in it.`,
        ];
  desk.troubled([...aside, ...trouble]);
  return [...aside, ...trouble];
}

/** An entry that can no longer be read decides nothing. */
function lastSettings(ledger: Ledger): Entry | null {
  try {
    return ledger.lastOfKind('settings');
  } catch {
    return null;
  }
}

function noteHouse(desk: Desk, before: SettingsInForce, house: HouseRules): void {
  const entered = settingsAtStart(before, house);
  if (entered !== null) desk.note('settings', entered);
  for (const words of house.trouble) desk.note('settings-refused', { words });
}

/** Every instant on the way is entered at the moment it is due, not when the clock has gone past it. */
function advance(desk: Desk, clock: SteppedClock, toMs: number): void {
  for (let next = desk.nextDue(); next !== null && next.due.dueAtMs <= toMs; next = desk.nextDue()) {
    clock.moveTo(Math.max(clock.now().continuousMs, next.due.dueAtMs));
    desk.ringBefore(clock.now());
  }
  clock.moveTo(Math.max(clock.now().continuousMs, toMs));
}
