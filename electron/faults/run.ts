import type { Step } from '../rehearsal/scenario.ts';
import { Bench } from './bench.ts';
import type { Chance } from './chance.ts';
import { plainDisk, smallDisk } from './disk.ts';
import { FAULT_NAMES, FAULTS, type FaultName, type Lasting } from './faults.ts';
import { must } from './loss.ts';
import { Treatment } from './treatment.ts';
import { judge, type Verdict } from './verdict.ts';

/** What befell one session, and what came of it. */
export interface Ran extends Verdict {
  /** How often each fault was brought about, by its name and means. */
  readonly faults: Readonly<Record<string, number>>;
  /** After which command each fault at a boundary was. */
  readonly boundaries: readonly number[];
}

/** Faults at so many boundaries between entries, and as many at instants between. */
const AT_BOUNDARIES = 2;

/** One whole session on a real station, with faults at places that chance decides; then the file is judged. */
export async function runOnce(steps: readonly Step[], run: number, chance: Chance): Promise<Ran> {
  const bench = new Bench(chance, run % 2 === 0 ? smallDisk() : plainDisk());
  try {
    return await treat(new Treatment(bench), steps, run);
  } catch (error) {
    console.error(`faults: what is left of run ${run} is kept in ${bench.keep()}`);
    throw error;
  } finally {
    await bench.remove();
  }
}

async function treat(treatment: Treatment, steps: readonly Step[], run: number): Promise<Ran> {
  const { bench } = treatment;
  const { chance } = bench;
  const counted: Record<string, number> = {};
  const boundaries = placesFor(run, steps.length);
  const midway = chance.below(steps.length);
  const between = chance.below(steps.length);
  let lasting: Lasting | null = null;
  let under = 0;
  /** One step after another, as far apart as planned: what a fault holds up holds up the rest. */
  let [givenAtMs, beforeS] = [0, 0];

  async function bring(name: FaultName): Promise<void> {
    const means = name === 'disk full' ? ` (${bench.disk.means.full})` : '';
    const readOnly = name === 'disk read-only' ? ` (${bench.disk.means['read-only']})` : '';
    const label = `${name}${means}${readOnly}`;
    counted[label] = (counted[label] ?? 0) + 1;
    if (lasting !== null && (name.startsWith('disk') || name === 'ledger locked')) await relieve();
    const begun = await FAULTS[name](bench);
    if (begun !== null) [lasting, under] = [begun, 0];
    await bench.compareShown();
  }

  async function relieve(): Promise<void> {
    await lasting?.end();
    lasting = null;
  }

  /** Ends the station a moment after a command was sent: before, while or after it is entered. */
  async function killMidway(): Promise<void> {
    counted['killed in a command'] = (counted['killed in a command'] ?? 0) + 1;
    await new Promise((resolve) => setTimeout(resolve, chance.below(6)));
    await bench.station.kill();
    await bench.start();
  }

  await bench.start();
  for (const [index, { atS, by, command }] of steps.entries()) {
    if (command.kind === 'open-session') await treatment.open();
    else {
      const targetMs = givenAtMs + (atS - beforeS) * 1000;
      if (index === between) {
        await treatment.bringTo(bench.machine.trueMs() + chance.share() * (targetMs - bench.machine.trueMs()));
        await bring(chance.among(FAULT_NAMES));
      }
      await treatment.bringTo(targetMs);
      await treatment.give(command, by, index === midway ? killMidway : null);
    }
    [givenAtMs, beforeS] = [bench.machine.trueMs(), atS];
    under += 1;
    if (lasting !== null && under >= (lasting as Lasting).commands) await relieve();
    const place = boundaries.indexOf(index);
    if (place >= 0) await bring(faultFor(run, place));
  }
  await relieve();
  await settle(bench);
  return { ...judge(bench, treatment.sessionId), faults: counted, boundaries };
}

/** Over so many runs as there are boundaries, each is had once by every place. */
const placesFor = (run: number, count: number): number[] =>
  Array.from({ length: AT_BOUNDARIES }, (_, place) => (run * 5 + place * Math.floor(count / AT_BOUNDARIES)) % count);

function faultFor(run: number, place: number): FaultName {
  const name = FAULT_NAMES[(run * AT_BOUNDARIES + place) % FAULT_NAMES.length];
  must(name !== undefined, () => 'there is no fault to bring about');
  return name as FaultName;
}

/** The disk is well again: a station that was started on a disk that was not lands what waited when it is started anew. */
async function settle(bench: Bench): Promise<void> {
  if ((await bench.station.look()).notYetSafe !== null) {
    await bench.station.kill();
    await bench.start();
  }
  const { notYetSafe } = await bench.station.look();
  must(notYetSafe === null, () => `entries still wait on a disk that is well: ${notYetSafe?.why}`);
  await bench.compareShown();
  await bench.station.stop();
}
