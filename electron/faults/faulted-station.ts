import { type ChildProcess, spawn } from 'node:child_process';
import { join } from 'node:path';
import { type FromStation, fromStationSchema } from '../../core/protocol/frames.ts';
import { type Message, messageSchema, type Request, type Snapshot } from '../../core/protocol/messages.ts';
import { type Control, controlledSchema } from './control.ts';
import type { DiskState } from './disk.ts';
import type { MachineState } from './moved-machine.ts';

type Told = Control extends infer C ? (C extends { token: number } ? Omit<C, 'token'> : never) : never;
type Reply = Extract<Message, { type: 'entered' | 'refused' | 'error' }>;
type Asked = Extract<Request, { type: 'open' | 'command' }>;

/** A real station process under fault, as a carrier with one screen sees it. */
export interface FaultedStation {
  readonly database: string;
  latest(): Snapshot;
  look(): Promise<Snapshot>;
  ask(request: Asked): Promise<Reply>;
  /** Says it and does not wait. */
  tell(request: Asked): void;
  /** Moves its machine's time; it looks at once what has come due by then. */
  setMachine(machine: MachineState): Promise<void>;
  setDisk(disk: DiskState): Promise<void>;
  kill(): Promise<void>;
  stop(): Promise<void>;
}

const ENTRY = join(import.meta.dirname, 'station-under-fault.mjs');
const SCREEN = 'faults';
/** Brought forward, it changes nothing, but has the station look at its clock. */
const NO_SESSION = 'none';

/** @throws Error with the station's own words where it cannot work. */
export async function startStation(machine: MachineState, data: string, emergency: string): Promise<FaultedStation> {
  const words = [ENTRY, JSON.stringify(machine), '--data', data, '--emergency', emergency, '--as-typed'];
  const child = spawn(process.execPath, words, { stdio: ['ignore', 'ignore', 'pipe', 'ipc'] });
  const ended = endOf(child);
  const failed = ended.then((how) => Promise.reject(new Error(`the station ended: ${how}`)));
  failed.catch(() => {});
  const replies = new Map<string, (reply: Reply) => void>();
  const controlled = new Map<number, () => void>();
  const looking: (() => void)[] = [];
  let snapshot: Snapshot | null = null;
  let token = 0;

  function hear(frame: FromStation): void {
    if (!('message' in frame)) return;
    const message = messageSchema.parse(frame.message);
    if (message.type === 'snapshot') snapshot = message;
    if (message.type === 'snapshot' && frame.screen === SCREEN) looking.shift()?.();
    if (message.type === 'entered' || message.type === 'refused' || message.type === 'error') {
      replies.get(message.requestId ?? '')?.(message);
    }
  }

  const ready = new Promise<string>((resolve) => {
    child.on('message', (data) => {
      const control = controlledSchema.safeParse(data);
      if (control.success) return controlled.get(control.data.controlled)?.();
      const frame = fromStationSchema.parse(data);
      if ('ready' in frame) resolve(frame.ready.database);
      hear(frame);
    });
  });
  const database = await Promise.race([failed, ready]);
  const say = (message: unknown): void => void child.send({ screen: SCREEN, message }, () => {});

  function control(told: Told): Promise<void> {
    token += 1;
    const done = new Promise<void>((resolve) => controlled.set(token, resolve));
    child.send({ ...told, token }, () => {});
    return Promise.race([failed, done]);
  }

  const latest = (): Snapshot => {
    if (snapshot === null) throw new Error('the station has shown nothing yet');
    return snapshot;
  };
  const look = async (): Promise<Snapshot> => {
    const shown = new Promise<void>((resolve) => looking.push(resolve));
    say({ type: 'hello', protocol: 1, screen: 'console' });
    await Promise.race([failed, shown]);
    return latest();
  };
  await look();

  return {
    database,
    latest,
    look,
    ask: (request) => {
      const answered = new Promise<Reply>((resolve) => replies.set(request.requestId, resolve));
      say(request);
      return Promise.race([failed, answered]);
    },
    tell: say,
    setMachine: async (state) => {
      await control({ machine: state });
      say({ type: 'front', sessionId: NO_SESSION });
    },
    setDisk: (disk) => control({ disk }),
    kill: async () => {
      child.kill('SIGKILL');
      await ended;
    },
    stop: async () => {
      child.send({ stop: true }, () => {});
      await ended;
    },
  };
}

function endOf(child: ChildProcess): Promise<string> {
  let said = '';
  child.stderr?.on('data', (chunk) => {
    said = `${said}${chunk}`.slice(-2000);
  });
  return new Promise((resolve) =>
    child.once('close', (code, signal) => resolve(`${signal ?? `code ${code}`} ${said}`)),
  );
}
