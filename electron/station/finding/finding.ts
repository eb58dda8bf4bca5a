import { Worker } from 'node:worker_threads';
import type { Message } from '../../../core/protocol/messages.ts';
import type { FindRequest } from './finder.ts';
import { type FindingOf, findAnswerSchema } from './finding-frames.ts';

export type { FindRequest } from './finder.ts';

/** Finding sessions, in a thread of its own. Nothing that is commanded depends on it. */
export interface Finding {
  /** Never rejects: what cannot be answered is answered with an error in words. */
  ask(request: FindRequest): Promise<Message>;
  stop(): void;
}

/** Nobody looks for a session in the first moments, and the ledger is being checked then. */
const START_AFTER_MS = 3_000;

export function findingIn(of: FindingOf): Finding {
  const waiting = new Map<number, { readonly requestId: string; answer(message: Message): void }>();
  let worker: Worker | null = null;
  let token = 0;
  let stopped = false;
  const early = setTimeout(started, START_AFTER_MS);
  early.unref();

  function started(): Worker {
    clearTimeout(early);
    if (worker !== null) return worker;
    const thread = new Worker(new URL('./finding-worker.mjs', import.meta.url), { workerData: of });
    thread.on('message', hear);
    thread.on('error', (error) => console.error(`station: finding failed: ${error.message}`));
    thread.on('exit', () => ended(thread));
    thread.unref();
    worker = thread;
    return thread;
  }

  function hear(data: unknown): void {
    const answer = findAnswerSchema.safeParse(data);
    if (!answer.success) {
      console.error('station: an answer from finding could not be read');
      return void worker?.terminate();
    }
    const { token, message } = answer.data;
    waiting.get(token)?.answer(message);
    waiting.delete(token);
  }

  /** Whoever waited is told so; the next question starts another thread. */
  function ended(thread: Worker): void {
    if (worker === thread) worker = null;
    for (const { requestId, answer } of waiting.values()) {
      answer({ type: 'error', requestId, says: 'finding failed: ask again' });
    }
    waiting.clear();
  }

  return {
    ask: (request) => {
      const { requestId } = request;
      if (stopped) return Promise.resolve({ type: 'error', requestId, says: 'the station is ending' });
      token += 1;
      return new Promise((answer) => {
        waiting.set(token, { requestId, answer });
        started().postMessage({ token, request });
      });
    },
    stop: () => {
      stopped = true;
      clearTimeout(early);
      void worker?.terminate();
    },
  };
}
