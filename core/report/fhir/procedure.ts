import type { FoundDeviation } from '../../ledger/deviations.ts';
import { isWhole } from '../../procedure/exposure.ts';
import { type SessionRecord, stateOf } from '../../procedure/record.ts';
import { STATE_WORDS } from '../../procedure/states.ts';
import { periodOf } from './course-times.ts';
import { identifierIn, type Naming, type Resource, referenceTo, resource } from './resource.ts';
import type { People } from './subjects.ts';

/** Statuses of R4's event-status that a session may have. */
export type ProcedureStatus = 'preparation' | 'in-progress' | 'not-done' | 'stopped' | 'completed';

/**
 * A treatment that was interrupted is never said to be completed: it is stopped where drug had been given, and not
 * done where none had. One that ended as planned is completed once discharged, if every eye had all of its light.
 */
export function procedureStatusOf(record: SessionRecord): ProcedureStatus {
  const { course, stopped } = record;
  if (stopped !== null) return course === null ? 'not-done' : 'stopped';
  if (course === null) return 'preparation';
  if (stateOf(record) !== 'discharged') return 'in-progress';
  return course.exposures.every((exposure) => isWhole(exposure, 0)) ? 'completed' : 'stopped';
}

export function procedureOf(
  naming: Naming,
  record: SessionRecord,
  { patient, people, deviations }: { patient: Resource; people: People; deviations: readonly FoundDeviation[] },
): Resource {
  const status = procedureStatusOf(record);
  const { course, sessionId, order, reactions, stopped } = record;
  const name = 'photodynamic therapy of the retina with verteporfin';
  const words = [
    `${name}: ${status}, session ${STATE_WORDS[stateOf(record)]}`,
    ...(order === null ? [] : [`${order.regimen.name}; ${order.regimen.onLabel ? 'on label' : 'off label'}`]),
  ];
  const reason = stopped?.reason ?? (status === 'stopped' ? 'not all of the ordered light was given' : null);
  const notes = deviations.map(({ words: said, seq }) => ({ text: `deviation, entry ${seq}: ${said}` }));
  return resource(naming, 'Procedure', `procedure/${sessionId}`, words, {
    identifier: [identifierIn(naming, 'session', sessionId)],
    status,
    ...(reason === null ? {} : { statusReason: { text: reason } }),
    code: { text: name },
    subject: referenceTo(patient),
    ...(course === null ? {} : { performedPeriod: periodOf(course, course.t0AtMs, endOf(record)) }),
    ...performers(record, people),
    ...(order === null ? {} : { bodySite: order.lesions.map(({ eye }) => ({ text: `${eye} eye, retina` })) }),
    ...(reactions.length === 0 ? {} : { complication: reactions.map(({ words: text }) => ({ text })) }),
    ...(notes.length === 0 ? {} : { note: notes }),
  });
}

/** When no more drug or light was to come; null while it may. */
const endOf = ({ reached, stopped }: SessionRecord): number | null =>
  (reached.find(({ state }) => state === 'afterCare') ?? stopped)?.atMs ?? null;

/** Who started the pump, and who first gave light. */
function performers({ reached }: SessionRecord, people: People) {
  const performer = reached
    .filter(({ state }) => state === 'infusing' || state === 'lightDelivery')
    .map(({ state, by }) => ({ function: { text: PART[state] ?? '' }, actor: people.referenceTo(by) }));
  return performer.length === 0 ? {} : { performer };
}

const PART: Readonly<Record<string, string>> = { infusing: 'started the infusion', lightDelivery: 'gave the light' };
