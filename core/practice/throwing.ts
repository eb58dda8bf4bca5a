import { beamIsOn, deliveredMs } from '../procedure/exposure.ts';
import { infusionRanMs } from '../procedure/infusion.ts';
import { type SessionRecord, stateOf } from '../procedure/record.ts';
import { MADE_UP_TROUBLES, type MadeUpId, type MadeUpTrouble, type TroubledState } from './made-up-troubles.ts';
import { part } from './part.ts';
import { scaleKgFor } from './wrong-weight.ts';

/** A trouble as one session has it: when in its state it comes. */
export interface Planned {
  readonly trouble: MadeUpTrouble;
  readonly share: number;
}

/**
 * The troubles of a session, one for each state that has any. Which, and when, follows from the session's identity:
 * another session has others, and the same session the same ones after a restart.
 */
export function troublesOf(sessionId: string): readonly Planned[] {
  const states = [...new Set(MADE_UP_TROUBLES.map(({ state }) => state))];
  return states.flatMap((state) => {
    const possible = MADE_UP_TROUBLES.filter((one) => one.state === state);
    const trouble = possible[Math.floor(part(sessionId, `which ${state}`) * possible.length)];
    if (trouble === undefined) return [];
    const { from, to } = trouble.share;
    return [{ trouble, share: from + part(sessionId, `when ${state}`) * (to - from) }];
  });
}

/**
 * What is to be thrown into a session now, of what was not thrown before: null where nothing is. Past `TOO_LATE` of its
 * state nothing comes any more, since there would be no time to meet it.
 */
export function toThrowNow(record: SessionRecord, thrown: readonly MadeUpId[], nowMs: number): MadeUpTrouble | null {
  const state = stateOf(record);
  const planned = troublesOf(record.sessionId).find(({ trouble }) => trouble.state === state);
  if (planned === undefined || thrown.includes(planned.trouble.id)) return null;
  const share = SHARE_OF[planned.trouble.state](record, nowMs);
  return share !== null && share >= planned.share && share < TOO_LATE ? planned.trouble : null;
}

const TOO_LATE = 0.8;

/** How far each state is, as a share of what is planned for it; null while it does not run. */
const SHARE_OF: Record<TroubledState, (record: SessionRecord, nowMs: number) => number | null> = {
  planning: (record) => (scaleKgFor(record) === null ? null : 0),
  infusing: ({ course }, nowMs) =>
    course === null || course.infusion.runningSinceAtMs === null
      ? null
      : infusionRanMs(course.infusion, nowMs) / course.infusion.plannedMs,
  waitingForLight: ({ course }, nowMs) => {
    const fromMs = course?.flush?.endedAtMs ?? null;
    if (course === null || fromMs === null || fromMs >= course.lightDueAtMs) return null;
    return (nowMs - fromMs) / (course.lightDueAtMs - fromMs);
  },
  lightDelivery: ({ course }, nowMs) => {
    const shining = course?.exposures.find(beamIsOn);
    return shining === undefined ? null : deliveredMs(shining, nowMs) / shining.plannedMs;
  },
};
