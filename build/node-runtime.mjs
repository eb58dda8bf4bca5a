import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('..', import.meta.url));

const OWN_NODE = `${ROOT}node_modules/node/bin/node${process.platform === 'win32' ? '.exe' : ''}`;
const OLDEST = 22;

/** The Node that runs the station, the bundler and the tests: the installed one, or this one where it is new enough. */
export function stationNode() {
  if (existsSync(OWN_NODE)) return OWN_NODE;
  return isNewEnough() ? process.execPath : null;
}

export const isNewEnough = () => Number(process.versions.node.split('.')[0]) >= OLDEST;
