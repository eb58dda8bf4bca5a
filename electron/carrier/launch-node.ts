import { spawn } from 'node:child_process';
import type { StationProcess } from './station-process.ts';

/** Starts the station as a child process of the given Node, with frames over Node's own pipe. */
export function launchNode(node: string, entry: string, words: readonly string[]): StationProcess {
  const child = spawn(node, [entry, ...words], {
    stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
    serialization: 'json',
    windowsHide: true,
  });
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
