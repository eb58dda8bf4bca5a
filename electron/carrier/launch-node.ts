import { spawn } from 'node:child_process';
import { hearLines } from './hear-lines.ts';
import type { StationProcess } from './station-process.ts';

/**
 * Starts the station as a child process of the given Node, with frames over Node's own pipe. What it writes goes where
 * the carrier's own lines go, or to `onLine`.
 */
export function launchNode(
  node: string,
  entry: string,
  words: readonly string[],
  onLine?: (line: string) => void,
): StationProcess {
  const written = onLine === undefined ? 'inherit' : 'pipe';
  const child = spawn(node, [entry, ...words], {
    stdio: ['ignore', written, written, 'ipc'],
    serialization: 'json',
    windowsHide: true,
  });
  if (onLine !== undefined) for (const stream of [child.stdout, child.stderr]) hearLines(stream, onLine);
  return {
    send: (frame) => {
      // A pipe that has just broken is told by the process's end, not here.
      if (child.connected) child.send(frame as object, () => {});
    },
    kill: () => child.kill('SIGKILL'),
    onFrame: (hear) => child.on('message', hear),
    onEnd: (hear) => {
      let told = false;
      const tell = (how: string): void => {
        if (!told) hear(how);
        told = true;
      };
      child.once('exit', (code, signal) => tell(signal ?? `code ${code}`));
      child.on('error', (error) => {
        if (child.pid === undefined) tell(error.message);
      });
    },
  };
}
