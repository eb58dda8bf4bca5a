import { BSA_FORMULAS } from '../../dosing/body-surface-area.ts';
import type { SessionRecord } from '../../procedure/record.ts';
import { BODY_CODES, quantity, VITAL_SIGNS } from './coding.ts';
import { timeOf } from './course-times.ts';
import { type Naming, type Resource, referenceTo, resource } from './resource.ts';
import type { People } from './subjects.ts';

const PROFILE = 'http://hl7.org/fhir/StructureDefinition';

/** Height, weight, and the area computed from them. None before they were entered. */
export function bodyResources(
  naming: Naming,
  { sessionId, measured, plan }: SessionRecord,
  { patient, people }: { patient: Resource; people: People },
): Resource[] {
  if (measured === null) return [];
  const shared = {
    status: 'final',
    category: VITAL_SIGNS,
    subject: referenceTo(patient),
    effectiveDateTime: timeOf(measured),
    performer: [people.referenceTo(measured.by)],
  };
  const observation = (
    name: string,
    words: readonly string[],
    content: Parameters<typeof resource>[4],
    profile?: string[],
  ): Resource => resource(naming, 'Observation', `${name}/${sessionId}`, words, { ...shared, ...content }, profile);
  const { heightCm, weightKg } = measured;
  const height = observation(
    'height',
    [`body height ${heightCm} cm`],
    { code: BODY_CODES.height, valueQuantity: quantity(heightCm, 'cm') },
    [`${PROFILE}/bodyheight`],
  );
  const weight = observation(
    'weight',
    [`body weight ${weightKg} kg`],
    { code: BODY_CODES.weight, valueQuantity: quantity(weightKg, 'kg') },
    [`${PROFILE}/bodyweight`],
  );
  if (plan === null) return [height, weight];
  const { name, source } = BSA_FORMULAS[plan.formula];
  const area = observation('area', [`body surface area ${plan.bodySurfaceAreaM2.toFixed(4)} m², ${name}`], {
    code: BODY_CODES.area,
    valueQuantity: quantity(plan.bodySurfaceAreaM2, 'm2'),
    method: { text: `${name}: ${source}` },
    derivedFrom: [referenceTo(height), referenceTo(weight)],
  });
  return [height, weight, area];
}
