import { readOptions } from './options.ts';
import { portToCarrier } from './port.ts';
import { runStation } from './station.ts';

/** Exit code of a station that cannot work as things are; starting it again at once would not help. */
const CANNOT_WORK = 3;

const port = portToCarrier();
if (port === null) {
  console.error('The station is started by the app, not by hand: use npm start.');
  process.exit(2);
}

try {
  const station = runStation(readOptions(process.argv.slice(2)), port);
  const leave = (): void => {
    station.stop();
    process.exit(0);
  };
  port.onGone(leave);
  process.on('SIGTERM', leave);
  process.on('SIGINT', () => {});
} catch (error) {
  const says = error instanceof Error ? error.message : String(error);
  port.send({ fatal: says });
  console.error(`station: ${says}`);
  setTimeout(() => process.exit(CANNOT_WORK), 100);
}
