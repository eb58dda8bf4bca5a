import { Worker } from 'node:worker_threads';
import type { Wanted } from '../../../core/protocol/exporting.ts';
import type { Message } from '../../../core/protocol/messages.ts';
import type { Limits } from '../../../core/settings/limits.ts';
import { type Made, type MakingOf, madeSchema } from './exporting-frames.ts';

/** Files for screens, each made in a thread of its own. Nothing that is commanded depends on it. */
export interface Exporting {
  /** Begins a file and answers with its part 0. Asked again under the same identity, it begins no other. */
  begin(requestId: string, wanted: Wanted): Promise<Message>;
  /** Answers with a part: the last one again, or the one after it. */
  part(requestId: string, exportId: string, part: number): Promise<Message>;
  cancel(exportId: string): void;
  stop(): void;
}

/** A part that takes longer is answered as being made still, so that a screen knows that somebody is there. */
const PATIENCE_MS = 1_000;
/** A file whose next part nobody asks for is given up. */
const ABANDONED_MS = 60_000;
const MOST_AT_ONCE = 4;

interface Job {
  readonly worker: Worker;
  /** The part that was asked for last, and what becomes of it. */
  part: number;
  made: Promise<Made>;
  /** How far the part before it came. */
  share: number | null;
  abandoned: NodeJS.Timeout;
}

export function exportingFrom(ledgerFile: string, limits: Limits): Exporting {
  const jobs = new Map<string, Job>();

  function begin(requestId: string, wanted: Wanted): Promise<Message> {
    if (!jobs.has(requestId)) {
      if (jobs.size >= MOST_AT_ONCE) return refused(requestId, 'four files are being made: wait until one is there');
      const of: MakingOf = { ledgerFile, wanted, limits };
      const worker = new Worker(new URL('./exporting-worker.mjs', import.meta.url), { workerData: of });
      worker.unref();
      const abandoned = setTimeout(() => end(requestId), ABANDONED_MS).unref();
      jobs.set(requestId, { worker, part: 0, made: madeBy(worker), share: null, abandoned });
    }
    return part(requestId, requestId, 0);
  }

  async function part(requestId: string, exportId: string, asked: number): Promise<Message> {
    const job = jobs.get(exportId);
    if (job === undefined) return refused(requestId, 'this file is not being made any more: begin it anew');
    job.abandoned.refresh();
    if (asked === job.part + 1) {
      job.share = shareOf(await job.made);
      job.part = asked;
      job.made = madeBy(job.worker);
    } else if (asked !== job.part) return refused(requestId, `part ${job.part + 1} is the next, not ${asked}`);
    const made = await Promise.race([job.made, patience()]);
    if (made !== null && 'says' in made) {
      end(exportId);
      return refused(requestId, made.says);
    }
    const base64 = made === null ? '' : Buffer.from(made.bytes).toString('base64');
    const { share, whole } = made ?? { share: job.share, whole: null };
    if (whole !== null) void job.worker.terminate();
    return { type: 'exported', requestId, exportId, part: asked, base64, share, whole };
  }

  function end(exportId: string): void {
    const job = jobs.get(exportId);
    jobs.delete(exportId);
    clearTimeout(job?.abandoned);
    void job?.worker.terminate();
  }

  return {
    begin,
    part,
    cancel: end,
    stop: () => {
      for (const exportId of jobs.keys()) end(exportId);
    },
  };
}

/** Asks a thread for its next part. A thread that ends instead has failed. */
function madeBy(worker: Worker): Promise<Made> {
  return new Promise((resolve) => {
    const settle = (made: Made): void => {
      worker.off('message', heard).off('error', failed).off('exit', ended);
      resolve(made);
    };
    const heard = (data: unknown): void => settle(madeSchema.parse(data));
    const failed = (error: Error): void => settle({ says: `the file could not be made: ${error.message}` });
    const ended = (): void => settle({ says: 'the file could not be made: its making ended' });
    worker.on('message', heard).on('error', failed).on('exit', ended);
    worker.postMessage({ next: true });
  });
}

const patience = (): Promise<null> => new Promise((resolve) => setTimeout(resolve, PATIENCE_MS, null).unref());

const shareOf = (made: Made): number | null => ('share' in made ? made.share : null);

const refused = async (requestId: string, says: string): Promise<Message> => ({ type: 'error', requestId, says });
