import { cpus } from 'node:os';
import { desktop } from '../desktop/desktop.ts';
import { measureDrift } from './drift/measure.ts';

/*
 * Whether the number on the board is the station's, over a whole infusion in real time:
 *
 *   node_modules/.bin/node tests/bench/drift.ts [MINUTES]
 *
 * Needs a display with two monitors, an Electron (`ELECTRON_OVERRIDE_DIST_PATH`) and a bundle in dist/. A third of the
 * minutes (20 unless said) each: left alone, covered by another window, and with every core busy. Prints JSON, in
 * milliseconds; judges nothing.
 *
 * The board's page looks at its own digits in every frame and notes when they change. The truth is the pump's start as it
 * stands in the ledger's file, plus the minutes of the product text. The page's clock is set beside the station's by
 * entries alone (`drift/common-time.ts`); how well that is known is printed beside the figures. What a frame takes from
 * the page to the eye is not seen: that is the one frame that is allowed beside the 50 ms.
 */
const minutes = Number(process.argv[2] ?? 20);
if (!(minutes > 0)) throw new Error('say how many minutes, for example 20');

const REAL_TIME = 1;
const desk = await desktop(REAL_TIME);
try {
  const result = await measureDrift(desk, (minutes * 60) / 3);
  console.log(JSON.stringify({ minutes, cores: cpus().length, ...result }, null, 2));
} finally {
  await desk.stop();
}
