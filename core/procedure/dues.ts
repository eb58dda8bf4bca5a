import type { DueEvent } from './due.ts';
import { exposureDueAtMs } from './exposure.ts';
import { infusionDueAtMs } from './infusion.ts';
import { type RungName, type SessionRecord, stateOf } from './record.ts';
import { FLUSH_MS, IN_USE_MS } from './spans.ts';
import type { StateName } from './states.ts';

/** States in which nothing is waited for any more. */
export const OVER: readonly StateName[] = ['afterCare', 'discharged', 'stoppedEarly'];

/**
 * The instants a session is waiting for, earliest first: each becomes an entry when it comes, once. They move when an
 * infusion is held or a start set back, and fall away when what they belong to ends.
 */
export function duesOf(record: SessionRecord): DueEvent[] {
  if (OVER.includes(stateOf(record))) return [];
  return [...drugDues(record), ...courseDues(record)]
    .filter((due) => record.rung[rungName(due)] === undefined)
    .sort((one, other) => one.dueAtMs - other.dueAtMs);
}

const rungName = (due: DueEvent): RungName => (due.kind === 'exposure-due' ? `exposure-due:${due.eye}` : due.kind);

function drugDues({ reconstitutedAtMs, course }: SessionRecord): DueEvent[] {
  const infused = course !== null && course.infusion.pumpOffAtMs !== null;
  if (reconstitutedAtMs === null || infused) return [];
  return [{ kind: 'drug-expiry-due', dueAtMs: reconstitutedAtMs + IN_USE_MS }];
}

function courseDues({ course }: SessionRecord): DueEvent[] {
  if (course === null) return [];
  const dues: DueEvent[] = [{ kind: 'light-due', dueAtMs: course.lightDueAtMs }];
  const infusionAtMs = infusionDueAtMs(course.infusion);
  if (infusionAtMs !== null) dues.push({ kind: 'infusion-due', dueAtMs: infusionAtMs });
  if (course.flush?.endedAtMs === null) dues.push({ kind: 'flush-due', dueAtMs: course.flush.beganAtMs + FLUSH_MS });
  if (course.secondEyeDueAtMs !== null) dues.push({ kind: 'second-eye-due', dueAtMs: course.secondEyeDueAtMs });
  for (const exposure of course.exposures) {
    const dueAtMs = exposureDueAtMs(exposure);
    if (dueAtMs !== null) dues.push({ kind: 'exposure-due', dueAtMs, eye: exposure.eye });
  }
  return dues;
}
