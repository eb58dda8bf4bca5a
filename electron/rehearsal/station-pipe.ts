import { type ChildProcess, spawn } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { type FromStation, fromStationSchema, type ToStation } from '../../core/protocol/frames.ts';
import { type Message, messageSchema, type Request, type Snapshot } from '../../core/protocol/messages.ts';

type Reply = Extract<Message, { type: 'entered' | 'refused' | 'error' }>;

/** A station of one's own, spoken to without a screen. */
export interface StationPipe {
  readonly database: string;
  readonly pid: number;
  latest(): Snapshot;
  ask(request: Extract<Request, { type: 'open' | 'command' }>): Promise<Reply>;
  /** Moves a stepped clock on; done when every instant on the way is entered. */
  advanceTo(continuousMs: number): Promise<void>;
  stop(): Promise<void>;
}

const SCREEN = 'rehearsal';

/** Starts a real station process. @throws Error with the station's own words when it cannot work. */
export async function startStation(node: string, entry: string, words: readonly string[]): Promise<StationPipe> {
  const child = spawn(node, [entry, ...words], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  const waiting = new Map<string, (reply: Reply) => void>();
  const advancing = new Map<number, () => void>();
  let snapshot: Snapshot | null = null;
  let onFirstSnapshot = (): void => {};
  const shown = new Promise<void>((resolve) => {
    onFirstSnapshot = resolve;
  });
  let token = 0;
  const send = (frame: ToStation): void => void child.send(frame);

  function hear(frame: FromStation): void {
    if ('advanced' in frame) advancing.get(frame.advanced)?.();
    if (!('message' in frame)) return;
    const message = messageSchema.parse(frame.message);
    if (message.type === 'snapshot') {
      snapshot = message;
      onFirstSnapshot();
    }
    if (message.type === 'entered' || message.type === 'refused' || message.type === 'error') {
      waiting.get(message.requestId ?? '')?.(message);
    }
  }

  const database = await readyDatabase(child);
  child.on('message', (data) => hear(fromStationSchema.parse(data)));
  const failed = new Promise<never>((_, reject) => {
    child.once('exit', (code, signal) => reject(new Error(`the station ended: ${signal ?? `code ${code}`}`)));
  });
  failed.catch(() => {});
  send({ screen: SCREEN, message: { type: 'hello', protocol: 1, screen: 'console' } });
  await Promise.race([failed, shown]);

  return {
    database,
    pid: child.pid ?? 0,
    latest: () => {
      if (snapshot === null) throw new Error('the station has shown nothing yet');
      return snapshot;
    },
    ask: (request) => {
      const answered = new Promise<Reply>((resolve) => waiting.set(request.requestId, resolve));
      send({ screen: SCREEN, message: request });
      return Promise.race([failed, answered]);
    },
    advanceTo: (continuousMs) => {
      token += 1;
      const advanced = new Promise<void>((resolve) => advancing.set(token, resolve));
      send({ advanceToMs: continuousMs, token });
      return Promise.race([failed, advanced]);
    },
    stop: async () => {
      const ended = new Promise((resolve) => child.once('exit', resolve));
      send({ stop: true });
      await ended;
    },
  };
}

export const newRequestId = (): string => randomUUID();

function readyDatabase(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    child.once('error', reject);
    child.once('exit', () => reject(new Error('the station ended before it was ready')));
    child.on('message', function hear(data) {
      const frame = fromStationSchema.parse(data);
      if ('fatal' in frame) reject(new Error(frame.fatal));
      if (!('ready' in frame)) return;
      child.off('message', hear);
      resolve(frame.ready.database);
    });
  });
}
