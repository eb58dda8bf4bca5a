import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { lastSnapshot } from '../carrier/last-snapshot.ts';
import { launchNode } from '../carrier/launch-node.ts';
import { cannotWork } from '../carrier/refusals.ts';
import { keepStation } from '../carrier/station-keeper.ts';
import { stationWords } from '../carrier/station-words.ts';
import { openBrowser } from './open-browser.ts';
import { serveScreens } from './screen-server.ts';
import { type ScreenSockets, screenSockets } from './screen-sockets.ts';

const DIST = join(import.meta.dirname, '..');

const { values: chosen } = parseArgs({
  options: {
    data: { type: 'string' },
    practice: { type: 'boolean' },
    speed: { type: 'string' },
    guided: { type: 'boolean' },
    port: { type: 'string', default: '0' },
    'no-open': { type: 'boolean' },
  },
});

try {
  await serve();
} catch (error) {
  console.error(`the screens cannot be served: ${error instanceof Error ? error.message : String(error)}`);
  process.exitCode = 1;
}

async function serve(): Promise<void> {
  const { server, door, addresses } = await serveScreens(join(DIST, 'renderer'), Number(chosen.port));
  const snapshot = lastSnapshot();
  let sockets: ScreenSockets | null = null;

  const launch = () => launchNode(process.execPath, join(DIST, 'station/main.mjs'), stationWords(chosen));
  const keeper = keepStation(launch, {
    onMessage: (screen, message) => {
      if (screen === '*') snapshot.keep(message);
      sockets?.tell(screen, message);
    },
    onLink: (up) => {
      if (!up) sockets?.closeAll();
    },
    onFatal: (says) => sockets?.tell('*', cannotWork(says)),
  });
  sockets = screenSockets(door, keeper, snapshot.asOfNow);
  server.on('upgrade', sockets.onUpgrade);

  for (const address of addresses) console.log(address);
  console.error('console, board, ledger: open each in a window of its own; Ctrl-C here ends Dimroom');
  if (!chosen['no-open']) openBrowser(addresses[0] ?? '');

  let leaving = false;
  const leave = async (): Promise<void> => {
    if (leaving) return;
    leaving = true;
    const under = snapshot.underWay().map(({ patient, stateWords }) => `${patient?.patientCode ?? '?'}: ${stateWords}`);
    keeper.report('closed', under.length === 0 ? 'closed' : `closed while under way: ${under.join('; ')}`);
    await keeper.stop();
    process.exit(0);
  };
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, leave);
}
