import type { SessionView } from '../../core/protocol/view.ts';
import type { Step } from './scenario.ts';
import { newRequestId, type StationPipe } from './station-pipe.ts';

/** A command that was not carried out, with what it waits for. */
export interface Refusal {
  readonly command: number;
  readonly kind: string;
  readonly atS: number;
  readonly missing: readonly string[];
}

export interface Rehearsed {
  /** The station's identity of each of the scenario's sessions, in the order they were opened. */
  readonly sessionIds: readonly string[];
  readonly refused: Refusal | null;
}

/** How a rehearsal's time is brought to a second of the scenario. */
export type Wait = (atS: number) => Promise<void>;

/** Gives a scenario's commands to a station, each at its second, until one is refused or all are given. */
export async function rehearse(steps: readonly Step[], station: StationPipe, wait: Wait): Promise<Rehearsed> {
  const opened = new Map<string, string>();
  for (const [index, step] of steps.entries()) {
    await wait(step.atS);
    const reply = await station.ask(requestFor(step, opened, station.latest().sessions));
    if (reply.type !== 'entered') {
      const missing = reply.type === 'refused' ? reply.missing.map((one) => one.text) : [reply.says];
      const refused = { command: index + 1, kind: step.command.kind, atS: step.atS, missing };
      return { sessionIds: [...opened.values()], refused };
    }
    if (step.command.kind === 'open-session') opened.set(step.session, reply.sessionId);
  }
  return { sessionIds: [...opened.values()], refused: null };
}

function requestFor(
  { by, session, command }: Step,
  opened: ReadonlyMap<string, string>,
  views: readonly SessionView[],
) {
  const requestId = newRequestId();
  if (command.kind === 'open-session') return { type: 'open', requestId, by, command } as const;
  const sessionId = opened.get(session) ?? '';
  const seq = views.find((view) => view.sessionId === sessionId)?.seq ?? Number.MAX_SAFE_INTEGER;
  return { type: 'command', requestId, sessionId, seq, by, command } as const;
}

/** A stepped clock is simply moved: a session takes no longer than the work itself. */
export function stepping(station: StationPipe): Wait {
  const startMs = station.latest().nowMs;
  return (atS) => station.advanceTo(startMs + atS * 1000);
}

/** How often a paced clock is moved on. */
const SLICE_MS = 20;

/**
 * The clock is moved on `speed` times as fast as real time, in slices. It stands where the scenario says when a
 * command is given, so that a busy machine delays a rehearsal but does not change what happens in it.
 */
export function pacing(station: StationPipe, speed: number): Wait {
  const startMs = station.latest().nowMs;
  const startedAtMs = performance.now();
  let reachedS = 0;
  return async (atS) => {
    while (reachedS < atS) {
      const passedS = ((performance.now() - startedAtMs) * speed) / 1000;
      reachedS = Math.min(atS, Math.max(reachedS, passedS));
      await station.advanceTo(startMs + reachedS * 1000);
      if (reachedS < atS) await new Promise((resolve) => setTimeout(resolve, SLICE_MS));
    }
  };
}
