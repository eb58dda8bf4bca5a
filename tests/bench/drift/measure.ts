import { loadavg } from 'node:os';
import { setTimeout as wait } from 'node:timers/promises';
import { quantile } from 'simple-statistics';
import type { Desktop } from '../../desktop/desktop.ts';
import { sessionBefore } from '../../screens/sent-commands.ts';
import { entriesIn } from '../../station/independent-reading.ts';
import { apartAtFlipMs } from './apart.ts';
import { type Seen, watchCounts } from './board-watch.ts';
import { middleOf, narrowed, type Offset, offsetByNotes } from './common-time.ts';
import { CONDITIONS } from './conditions.ts';

/** EU-SmPC: light 15 min after the infusion's start; 30 mL at 3 mL/min. As the board shows them, weightier first. */
const DUE_AFTER_T0_MS = [15 * 60_000, 10 * 60_000] as const;
/** What is asked of the board, beside one frame. */
const ALLOWED_MS = 50;
const NOTES = 20;

interface Phase {
  readonly condition: string;
  readonly seconds: number;
  readonly load: number;
  readonly seen: Seen;
}

/** Infuses in real time, and lets each condition last so long. Milliseconds throughout. */
export async function measureDrift(desk: Desktop, secondsEach: number) {
  const { board, ledgerFile } = desk;
  if (board === null) throw new Error('there is no second display, and so no board');
  const sessionId = await sessionBefore(desk.console, 'begin-flush');
  await board.locator('.big-count').nth(1).waitFor();
  const compare = (): Promise<Offset> => offsetByNotes(board, ledgerFile, sessionId, NOTES);

  const offsets = [await compare()];
  const take = await watchCounts(board);
  const phases: Phase[] = [];
  for (const { name, bring } of CONDITIONS) {
    const end = await bring(desk);
    // What was seen while it came about is of neither condition.
    await take();
    await wait(secondsEach * 1000);
    phases.push({ condition: name, seconds: secondsEach, load: loadavg()[0] ?? 0, seen: await take() });
    await end();
    offsets.push(await compare());
  }
  return told(phases, offsets, t0In(ledgerFile, sessionId));
}

/** The instant of the press, on the station's continuous clock, as it stands in the file. */
function t0In(ledgerFile: string, sessionId: string): number {
  const press = entriesIn(ledgerFile).find((one) => one.sessionId === sessionId && one.kind === 'start-pump');
  if (press === undefined) throw new Error('the pump was not started');
  return press.continuousMs;
}

function told(phases: readonly Phase[], offsets: readonly Offset[], t0AtMs: number) {
  const offset = narrowed(offsets);
  const offsetMs = middleOf(offset);
  return {
    clocks: {
      /** The station's clock less the board's is known to within so much to either side. */
      knownWithinMs: (offset.mostMs - offset.leastMs) / 2,
      /** The same after each condition, as the middle of what is known then, beside the first. */
      apartSinceStartMs: offsets.map((one) => round(middleOf(one) - middleOf(offsets[0] ?? one))),
    },
    conditions: phases.map(({ condition, seconds, load, seen }) => {
      const apart = seen.flips.map((flip) => {
        const dueAtMs = t0AtMs + (DUE_AFTER_T0_MS[flip.count] ?? Number.NaN);
        return apartAtFlipMs(flip, dueAtMs - flip.atPageMs - offsetMs);
      });
      const share = (part: number): number => (apart.length === 0 ? Number.NaN : round(quantile(apart, part)));
      const allowedMs = ALLOWED_MS + seen.medianFrameMs;
      return {
        condition,
        seconds,
        load,
        flips: apart.length,
        leastMs: share(0),
        medianMs: share(0.5),
        p95Ms: share(0.95),
        p99Ms: share(0.99),
        mostMs: share(1),
        allowedMs: round(allowedMs),
        over: apart.filter((ms) => ms > allowedMs).length,
        /** Of those, by more than the frame that drew it allows, however long it was. */
        overItsOwnFrame: apart.filter((ms, place) => ms > ALLOWED_MS + (seen.flips[place]?.frameMs ?? 0)).length,
        frames: seen.frames,
        medianFrameMs: round(seen.medianFrameMs),
        longestFrameMs: round(seen.longestFrameMs),
      };
    }),
  };
}

const round = (ms: number): number => Math.round(ms * 100) / 100;
