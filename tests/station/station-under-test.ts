import { type ChildProcess, spawn } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { onTestFinished } from 'vitest';
import { type FromStation, fromStationSchema } from '../../core/protocol/frames.ts';
import { type Message, messageSchema, type Snapshot } from '../../core/protocol/messages.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { controlledSchema } from '../../electron/faults/control.ts';
import type { DiskState } from '../../electron/faults/disk.ts';
import { freshMachine, type MachineState } from '../../electron/faults/moved-machine.ts';

const STATION = resolve(import.meta.dirname, '../../dist/station/main.mjs');
const STATION_UNDER_FAULT = resolve(import.meta.dirname, '../../dist/faults/station-under-fault.mjs');

type MessageOf<T extends Message['type']> = Extract<Message, { type: T }>;
export type Entered = MessageOf<'entered'>;
export type Refused = MessageOf<'refused'>;

export interface ScreenUnderTest {
  /** Everything this screen alone was told. */
  readonly heard: readonly Message[];
  ask(message: object): Promise<Message>;
  leave(): void;
}

/** A real station process, spoken to over its pipe as any number of screens. */
export interface StationUnderTest {
  readonly pid: number;
  readonly database: string;
  readonly boot: string;
  /** How many sessions it took up when it was ready. */
  readonly takenUp: number;
  /** Every error that it has told all screens of. */
  readonly troubles: readonly string[];
  latest(): Snapshot;
  /** Its present, asked for and not waited for. */
  look(): Promise<Snapshot>;
  view(sessionId: string): SessionView;
  /** Says something as a screen of its own, and hears all that is answered to that screen. */
  answers(message: unknown): Promise<Message[]>;
  /** Says something that has exactly one answer. */
  ask(message: unknown): Promise<Message>;
  /** Says something whose answer takes a while to make, and waits for it. */
  askAndWait(message: unknown): Promise<Message>;
  /** Says something that has exactly one answer, which takes a while to make. */
  reply(message: unknown): Promise<Message>;
  /** One screen that stays: says something, and waits for the answer to it. */
  at(screen: string): ScreenUnderTest;
  /** Says something and does not wait. */
  tell(message: unknown): void;
  /** Sends a frame as it is, a good one or not. */
  frame(frame: unknown): void;
  onSnapshot(hear: (snapshot: Snapshot) => void): void;
  /** Looks until it is so. */
  when(reached: (snapshot: Snapshot) => boolean): Promise<Snapshot>;
  advanceTo(continuousMs: number): Promise<void>;
  /** Ends it at once, as a crash or a power button would. */
  kill(): Promise<void>;
  /** Asks it to end. Returns its exit code. */
  stop(): Promise<number | null>;
  /** Its exit code, once it has ended by itself. */
  readonly ended: Promise<number | null>;
  disconnect(): void;
}

/** A folder that is gone when the test is over. */
export function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export const newRequestId = (): string => randomUUID();

/** A station that cannot work as things are: its own words, and its exit code. */
export class StationRefused extends Error {
  readonly code: number | null;

  constructor(says: string, code: number | null) {
    super(says);
    this.code = code;
  }
}

/** Starts a station and waits until it is ready. @throws StationRefused with what it says where it cannot work. */
export async function startStation(data: string, ...words: string[]): Promise<StationUnderTest> {
  return startWith([...foldersFor(data), ...words]);
}

/** Entries that wait are kept beside the ledger, and not where a person's own would be. */
const foldersFor = (data: string): string[] => [...roomFor(data), '--as-typed'];

/** A station's words where its people sign in. */
export const roomFor = (data: string): string[] => ['--data', data, '--emergency', emergencyIn(data)];
export const emergencyIn = (data: string): string => join(data, 'emergency');

export interface FaultableStation extends StationUnderTest {
  /** Moves its machine's time, and has it look at its clock. */
  move(change: Partial<MachineState>): Promise<Snapshot>;
  /** How its machine's time stands. */
  machine(): MachineState;
  setDisk(state: DiskState): Promise<void>;
}

/** The same station on a machine whose time can be moved and whose disk can refuse. */
export async function startFaultable(
  data: string,
  from = freshMachine(`boot-${randomUUID()}`),
  ...words: string[]
): Promise<FaultableStation> {
  let machine = from;
  const station = await startWith([JSON.stringify(machine), ...foldersFor(data), ...words], STATION_UNDER_FAULT);
  const told = async (control: object): Promise<void> => {
    station.frame({ ...control, token: 0 });
    station.tell({ type: 'front', sessionId: 'none' });
  };
  return {
    ...station,
    machine: () => machine,
    move: async (change) => {
      machine = { ...machine, ...change };
      await told({ machine });
      return station.look();
    },
    setDisk: async (disk) => {
      await told({ disk });
      await station.look();
    },
  };
}

export async function startWith(words: readonly string[], entry = STATION): Promise<StationUnderTest> {
  const child = spawn(process.execPath, [entry, ...words], { stdio: ['ignore', 'ignore', 'pipe', 'ipc'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  const { ended, stderr } = endOf(child);
  const screens = new Map<string, Message[]>();
  const awaited = new Map<string, () => void>();
  const onSnapshot: ((snapshot: Snapshot) => void)[] = [];
  const troubles: string[] = [];
  let snapshot: Snapshot | null = null;
  let giveUp = (_error: unknown): void => {};
  /** Nothing more can be heard: it ended, or said what cannot be read. */
  const broken = new Promise<never>((_, reject) => {
    giveUp = reject;
  });
  broken.catch(() => {});

  function hear(screen: string, message: Message): void {
    if (message.type === 'snapshot') {
      snapshot = message;
      for (const one of onSnapshot) one(message);
    }
    if (screen === '*' && message.type === 'error') troubles.push(message.says);
    screens.get(screen)?.push(message);
    awaited.get(screen)?.();
  }

  let fatal = '';
  const ready = new Promise<Extract<FromStation, { ready: unknown }>['ready']>((resolve, reject) => {
    child.on('message', (data) => {
      try {
        if (controlledSchema.safeParse(data).success) return;
        const frame = fromStationSchema.parse(data);
        if ('ready' in frame) resolve(frame.ready);
        if ('fatal' in frame) fatal = frame.fatal;
        if ('advanced' in frame) awaited.get(`advance ${frame.advanced}`)?.();
        if ('message' in frame) hear(frame.screen, messageSchema.parse(frame.message));
      } catch (error) {
        giveUp(error);
      }
    });
    ended.then((code) => reject(new StationRefused(fatal === '' ? stderr() : fatal, code)));
  });
  const { database, boot, sessions } = await Promise.race([ready, broken]);

  let count = 0;
  const send = (frame: unknown): void => void child.send(frame as object, () => {});
  const hello = { type: 'hello', protocol: 1, screen: 'console' };
  ended.then((code) => giveUp(new Error(`the station ended, code ${code}: ${stderr()}`)));

  /** What is answered to a screen before the same pipe answers a later greeting: all of it, and no waiting for more. */
  async function answers(message: unknown): Promise<Message[]> {
    count += 1;
    const [screen, after] = [`screen-${count}`, `after-${count}`];
    const heard: Message[] = [];
    screens.set(screen, heard);
    const done = new Promise<void>((resolve) => awaited.set(after, resolve));
    send({ screen, message });
    send({ screen: after, message: hello });
    await Promise.race([done, broken]);
    screens.delete(screen);
    awaited.delete(after);
    return heard;
  }

  async function reply(message: unknown): Promise<Message> {
    count += 1;
    const screen = `screen-${count}`;
    const heard: Message[] = [];
    screens.set(screen, heard);
    const done = new Promise<void>((resolve) => awaited.set(screen, resolve));
    send({ screen, message });
    await Promise.race([done, broken]);
    screens.delete(screen);
    awaited.delete(screen);
    const [one] = heard;
    if (one === undefined) throw new Error('there is no answer');
    return one;
  }

  const latest = (): Snapshot => {
    if (snapshot === null) throw new Error('the station has shown nothing yet');
    return snapshot;
  };
  const look = async (): Promise<Snapshot> => {
    await answers(hello);
    return latest();
  };
  await look();

  return {
    pid: child.pid ?? 0,
    database,
    boot,
    takenUp: sessions,
    troubles,
    latest,
    look,
    view: (sessionId) => viewIn(latest(), sessionId),
    answers,
    ask: async (message) => {
      const [one, ...more] = await answers(message);
      if (one === undefined || more.length > 0) throw new Error(`${more.length + (one ? 1 : 0)} answers instead of 1`);
      return one;
    },
    askAndWait: async (message) => {
      count += 1;
      const screen = `waiting-${count}`;
      const heard: Message[] = [];
      screens.set(screen, heard);
      send({ screen, message });
      while (heard.length === 0) await Promise.race([new Promise((resolve) => setTimeout(resolve, 10)), broken]);
      screens.delete(screen);
      return heard[0] as Message;
    },
    reply,
    at: (screen) => {
      const heard = screens.get(screen) ?? [];
      screens.set(screen, heard);
      return {
        heard,
        ask: async (message) => {
          const request = { requestId: newRequestId(), ...message };
          const answered = () => heard.find((one) => 'requestId' in one && one.requestId === request.requestId);
          send({ screen, message: request });
          while (answered() === undefined)
            await Promise.race([new Promise((resolve) => setTimeout(resolve, 10)), broken]);
          return answered() as Message;
        },
        leave: () => send({ left: screen }),
      };
    },
    tell: (message) => send({ screen: 'told', message }),
    frame: send,
    onSnapshot: (one) => void onSnapshot.push(one),
    when: async (reached) => {
      let present = await look();
      while (!reached(present)) {
        await new Promise((resolve) => setTimeout(resolve, 25));
        present = await look();
      }
      return present;
    },
    advanceTo: async (continuousMs) => {
      count += 1;
      const token = count;
      const done = new Promise<void>((resolve) => awaited.set(`advance ${token}`, resolve));
      send({ advanceToMs: continuousMs, token });
      await Promise.race([done, broken]);
      await look();
    },
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
    },
    stop: async () => {
      send({ stop: true });
      return ended;
    },
    ended,
    disconnect: () => child.disconnect(),
  };
}

export function viewIn(snapshot: Snapshot, sessionId: string): SessionView {
  const view = snapshot.sessions.find((one) => one.sessionId === sessionId);
  if (view === undefined) throw new Error(`session ${sessionId} is not shown`);
  return view;
}

function endOf(child: ChildProcess): { ended: Promise<number | null>; stderr: () => string } {
  let said = '';
  child.stderr?.on('data', (chunk) => {
    said += chunk;
  });
  const exited = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const saidAll = new Promise<void>((resolve) => child.stderr?.once('close', resolve));
  return { ended: saidAll.then(() => exited), stderr: () => said };
}
