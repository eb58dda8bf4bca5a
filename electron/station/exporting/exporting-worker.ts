import { parentPort, workerData } from 'node:worker_threads';
import { PART_BYTES } from '../../../core/protocol/exporting.ts';
import { openExtracts } from '../extracts.ts';
import { type Made, makingOfSchema, nextSchema } from './exporting-frames.ts';
import { type Part, parts } from './parts.ts';
import { type WantedFile, wantedFile } from './wanted-file.ts';

// Makes one file beside the station, by a connection of its own that cannot write, so that no countdown waits for it.
const { ledgerFile, wanted, limits } = makingOfSchema.parse(workerData);

interface Making {
  readonly file: WantedFile;
  readonly parts: Generator<Part>;
}

let making: Promise<Making> | null = null;

parentPort?.on('message', (data) => {
  nextSchema.parse(data);
  making ??= begun();
  void making.then(next).catch(failed).then(answer);
});

async function begun(): Promise<Making> {
  const source = openExtracts(ledgerFile);
  const file = await wantedFile(source, wanted, limits);
  return { file, parts: parts(file.pieces, file.expected, PART_BYTES) };
}

function next({ file, parts }: Making): Made {
  const part = parts.next();
  if (part.done === true) return { says: 'the file is whole already' };
  const { bytes, share, end } = part.value;
  if (end === null) return { bytes, share, whole: null };
  const { notes, ...named } = file.finished();
  return { bytes, share, whole: { ...named, ...end, notes: [...notes] } };
}

const failed = (error: unknown): Made => ({ says: error instanceof Error ? error.message : String(error) });

function answer(made: Made): void {
  parentPort?.postMessage(made, 'bytes' in made ? [made.bytes.buffer] : []);
}
