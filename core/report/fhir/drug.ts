import type { Plan } from '../../dosing/plan-schema.ts';
import { dosesNow } from '../../procedure/doses.ts';
import { infusionRanMs } from '../../procedure/infusion.ts';
import { type Course, type SessionRecord, stateOf } from '../../procedure/record.ts';
import { quantity } from './coding.ts';
import { periodOf, timeOf } from './course-times.ts';
import { type Naming, type Resource, referenceTo, resource } from './resource.ts';
import type { People } from './subjects.ts';

/** Statuses of R4's medication-admin-status that a session may have. */
export type DrugStatus = 'not-done' | 'in-progress' | 'on-hold' | 'stopped' | 'completed';

/** Null while nothing can be said: no drug has run, and it still may. */
export function drugStatusOf({ course, stopped }: SessionRecord): DrugStatus | null {
  if (course === null) return stopped === null ? null : 'not-done';
  const { infusion, flush } = course;
  const flushed = flush !== null && flush.endedAtMs !== null;
  if (infusion.pumpOffAtMs === null) return infusion.runningSinceAtMs === null ? 'on-hold' : 'in-progress';
  const ranItsTime = infusionRanMs(infusion, infusion.pumpOffAtMs) >= infusion.plannedMs;
  if (flushed && ranItsTime) return 'completed';
  return flushed || stopped !== null ? 'stopped' : 'in-progress';
}

/** The infusion, and the drug in it. None where no drug has run and it still may. */
export function drugResources(
  naming: Naming,
  record: SessionRecord,
  { patient, procedure, people }: { patient: Resource; procedure: Resource; people: People },
): Resource[] {
  const status = drugStatusOf(record);
  if (status === null) return [];
  const medication = medicationOf(naming, record);
  const { course, plan, stopped } = record;
  const started = record.reached.find(({ state }) => state === 'infusing');
  const words = wordsOf(record, status);
  const administration = resource(naming, 'MedicationAdministration', `drug/${record.sessionId}`, words, {
    status,
    ...(stopped === null || status === 'completed' ? {} : { statusReason: [{ text: stopped.reason }] }),
    medicationReference: referenceTo(medication),
    subject: referenceTo(patient),
    ...(course === null
      ? { effectiveDateTime: timeOf(stopped ?? { wallMs: 0, offsetMin: 0 }) }
      : { effectivePeriod: periodOf(course, course.t0AtMs, course.infusion.pumpOffAtMs) }),
    ...(started === undefined ? {} : { performer: [{ actor: people.referenceTo(started.by) }] }),
    partOf: [referenceTo(procedure)],
    ...(course === null || plan === null ? {} : { dosage: dosageOf(record, course, plan, words.join('. ')) }),
    ...(course === null ? {} : holdNotes(course)),
  });
  return [medication, administration];
}

function medicationOf(naming: Naming, { sessionId, drug, plan }: SessionRecord): Resource {
  const { infusate } = plan ?? { infusate: null };
  const made =
    infusate === null ? [] : [`${infusate.drugMlRounded} mL and dextrose 5 % to ${infusate.totalMl} mL, by the plan`];
  return resource(naming, 'Medication', `infusate/${sessionId}`, ['verteporfin, 2 mg/mL', ...made], {
    code: { text: 'verteporfin' },
    ...(drug === null ? {} : { batch: { lotNumber: drug.lot, expirationDate: drug.expires } }),
  });
}

function dosageOf(record: SessionRecord, course: Course, plan: Plan, text: string) {
  const { pumpOffAtMs } = course.infusion;
  const over = pumpOffAtMs !== null && stateOf(record) !== 'flushing';
  const given = over ? dosesNow(record, pumpOffAtMs) : null;
  return {
    text,
    route: { text: 'intravenous' },
    ...(given === null ? {} : { dose: quantity(given.inPatientMg, 'mg') }),
    rateQuantity: quantity(plan.infusate.rateMlPerMin, 'mL/min'),
  };
}

/** What was made up, how long it ran, and what the figure for the dose is: computed, not measured. */
function wordsOf(record: SessionRecord, status: DrugStatus): string[] {
  const { course, plan, stopped } = record;
  if (course === null || plan === null) return [`no drug was given: ${stopped?.reason ?? ''}`];
  const { infusion } = course;
  const ranS = infusion.pumpOffAtMs === null ? null : infusionRanMs(infusion, infusion.pumpOffAtMs) / 1000;
  return [
    `verteporfin, ${plan.infusate.doseAfterRoundingMg.toFixed(2)} mg made up, infusion ${status}`,
    ...(ranS === null ? [] : [`the pump ran ${ranS} s of ${infusion.plannedMs / 1000} s planned`]),
    'the dose given is computed from the time the pump ran and the flush; what went beside the vein is not taken off',
  ];
}

function holdNotes({ infusion, ...course }: Course) {
  const note = infusion.holds.map(({ heldAtMs, resumedAtMs, reason }) => {
    const { start, end } = periodOf({ infusion, ...course }, heldAtMs, resumedAtMs ?? infusion.pumpOffAtMs);
    return { text: `infusion held, ${reason}: from ${start}${end === undefined ? '' : ` to ${end}`}` };
  });
  return note.length === 0 ? {} : { note };
}
