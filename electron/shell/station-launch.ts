import { join } from 'node:path';
import { app, utilityProcess } from 'electron';
import { launchNode } from '../carrier/launch-node.ts';
import type { Launch, StationProcess } from '../carrier/station-process.ts';

const ENTRY = join(__dirname, '../station/main.mjs');

/** How this app starts its station: Electron's own Node, or in development the one that a variable names. */
export function stationLaunch(words: readonly string[]): Launch {
  const node = app.isPackaged ? undefined : process.env.DIMROOM_STATION_NODE;
  return node === undefined ? () => launchUtility(words) : () => launchNode(node, ENTRY, words);
}

function launchUtility(words: readonly string[]): StationProcess {
  const child = utilityProcess.fork(ENTRY, [...words], { serviceName: 'Dimroom station', stdio: 'inherit' });
  return {
    send: (frame) => child.postMessage(frame),
    kill: () => child.kill(),
    onFrame: (hear) => child.on('message', hear),
    onEnd: (hear) => child.once('exit', (code) => hear(`code ${code}`)),
  };
}
