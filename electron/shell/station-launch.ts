import { join } from 'node:path';
import { utilityProcess } from 'electron';
import { hearLines } from '../carrier/hear-lines.ts';
import { launchNode } from '../carrier/launch-node.ts';
import type { Launch, StationProcess } from '../carrier/station-process.ts';
import { isRelease } from './release.ts';

/** In a package the station lies beside the archive, where its native part can be loaded and any Node can read it. */
const ENTRY = join(__dirname, '../station/main.mjs').replace(/([\\/]app\.asar)([\\/])/, '$1.unpacked$2');

/** How this app starts its station: Electron's own Node, or outside a release the one that a variable names. */
export function stationLaunch(words: readonly string[]): Launch {
  const node = isRelease() ? undefined : process.env.DIMROOM_STATION_NODE;
  return node === undefined ? () => launchUtility(words) : () => launchNode(node, ENTRY, words, keepLine);
}

/** What the station writes stands in the log beside the shell's own lines. */
const keepLine = (line: string): void => console.error(line);

function launchUtility(words: readonly string[]): StationProcess {
  const child = utilityProcess.fork(ENTRY, [...words], { serviceName: 'Dimroom station', stdio: 'pipe' });
  for (const written of [child.stdout, child.stderr]) hearLines(written, keepLine);
  return {
    send: (frame) => child.postMessage(frame),
    kill: () => child.kill(),
    onFrame: (hear) => child.on('message', hear),
    onEnd: (hear) => child.once('exit', (code) => hear(`code ${code}`)),
  };
}
