import { readFileSync } from 'node:fs';
import { browserCarrier, CHROMIUM, newFolder, openChromium } from '../../screens/browser-carrier.ts';
import { sessionBefore } from '../../screens/sent-commands.ts';
import { type Lacking, type Row, rowOf } from './row.ts';

const SLICES = 6;
const SLICE_MS = 5_000;
/** Linux counts processor time in these, and has for decades: `getconf CLK_TCK`. */
const TICKS_PER_S = 100;

/** What counting costs while an infusion runs in real time: of one core, by the station and by each page's own thread. */
export async function counting(): Promise<(Row | Lacking)[]> {
  const what = 'processor while counting';
  if (CHROMIUM === null) return [{ what, why: 'no Chromium here' }];
  const carrier = await browserCarrier(1, newFolder());
  const browser = await openChromium();
  try {
    const [console_, board] = [await browser.newPage(), await browser.newPage()];
    await console_.goto(carrier.console);
    await board.goto(carrier.board);
    await sessionBefore(console_, 'begin-flush');
    await board.locator('.big-count').first().waitFor();
    const clients = await Promise.all([console_, board].map((page) => page.context().newCDPSession(page)));
    for (const client of clients) await client.send('Performance.enable');
    const busy = async () => [
      stationS(carrier.stationPid()),
      ...(await Promise.all(
        clients.map(async (client) => {
          const { metrics } = await client.send('Performance.getMetrics');
          return metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN;
        }),
      )),
    ];
    const slices: number[][] = [];
    for (let count = 0; count < SLICES; count += 1) {
      const before = await busy();
      await board.waitForTimeout(SLICE_MS);
      const after = await busy();
      slices.push(after.map((seconds, place) => ((seconds - (before[place] ?? 0)) / (SLICE_MS / 1000)) * 100));
    }
    const at = (place: number): number[] => slices.map((slice) => slice[place] ?? Number.NaN);
    return ['station', 'console page', 'board page'].map((name, place) =>
      rowOf(`${what}, ${name}`, '% of a core', at(place)),
    );
  } finally {
    await browser.close();
    await carrier.stop();
  }
}

/** Processor time that a process has had, s. */
function stationS(pid: number): number {
  const fields = readFileSync(`/proc/${pid}/stat`, 'utf8')
    .replace(/^.*\) /, '')
    .split(' ');
  return (Number(fields[11]) + Number(fields[12])) / TICKS_PER_S;
}
