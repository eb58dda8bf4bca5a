import { parentPort, workerData } from 'node:worker_threads';
import type { Message } from '../../../core/protocol/messages.ts';
import { type FindRequest, finder } from './finder.ts';
import { findAskSchema, findingOfSchema } from './finding-frames.ts';

// Finds sessions beside the station, by connections of its own, so that no countdown waits for it.
const { ledgerFile, limits } = findingOfSchema.parse(workerData);
const ours = finder(ledgerFile, limits);

/** How soon entries are taken in that nobody has asked for. */
const LOOK_AGAIN_MS = 5_000;
let building = false;

parentPort?.on('message', (data) => {
  const { token, request } = findAskSchema.parse(data);
  parentPort?.postMessage({ token, message: answered(request as FindRequest) });
});
build();
setInterval(build, LOOK_AGAIN_MS);

/** A batch at a time: between two of them, questions are answered. */
function build(): void {
  if (building) return;
  building = true;
  setImmediate(function next() {
    building = stepped();
    if (building) setImmediate(next);
  });
}

function stepped(): boolean {
  try {
    return ours.step();
  } catch (error) {
    console.error(`station: the index for finding is not up to date: ${wordsOf(error)}`);
    return false;
  }
}

function answered(request: FindRequest): Message {
  try {
    return ours.answer(request);
  } catch (error) {
    const says = `sessions cannot be looked for: ${wordsOf(error)}`;
    return { type: 'error', requestId: request.requestId, says };
  }
}

const wordsOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));
