import { beamIsOn, deliveredJPerCm2, deliveredMs, type Exposure } from '../../procedure/exposure.ts';
import { type Course, type SessionRecord, stateOf } from '../../procedure/record.ts';
import { PROCEDURE_CATEGORY, quantity, type UcumCode } from './coding.ts';
import { periodOf, timeOf } from './course-times.ts';
import { type Naming, type Resource, referenceTo, resource } from './resource.ts';
import type { People } from './subjects.ts';

/** Of the light that the drug is activated by, nm. EU-SmPC: 689 ± 3 nm. Prescribed, not read back. */
const PRESCRIBED_WAVELENGTH_NM = 689;

interface Around {
  readonly patient: Resource;
  readonly procedure: Resource;
  readonly people: People;
}

/** For each eye: what was read back from the laser, and the light that was given. */
export function laserResources(naming: Naming, record: SessionRecord, around: Around): Resource[] {
  return (record.order?.lesions ?? []).flatMap(({ eye }) => {
    const exposure = record.course?.exposures.find((one) => one.eye === eye);
    return [
      ...readBackResource(naming, record, eye, around),
      ...(record.course === null || exposure === undefined
        ? []
        : givenResource(naming, record, record.course, exposure, around)),
    ];
  });
}

const component = (text: string, value: number, code: UcumCode) => ({
  code: { text },
  valueQuantity: quantity(value, code),
});

function readBackResource(
  naming: Naming,
  { readBacks, sessionId }: SessionRecord,
  eye: Exposure['eye'],
  { patient, procedure, people }: Around,
): Resource[] {
  const read = readBacks[eye];
  if (read === undefined) return [];
  const { setSpotUm, lensFactor, laserLensFactor, irradianceMwPerCm2, powerMw, exposureS, agrees, says } = read;
  const words = `laser settings read back, ${eye} eye: ${agrees ? 'as planned' : says}`;
  return [
    resource(naming, 'Observation', `read-back/${eye}/${sessionId}`, [words], {
      status: 'final',
      category: PROCEDURE_CATEGORY,
      code: { text: `laser settings read back, ${eye} eye` },
      subject: referenceTo(patient),
      partOf: [referenceTo(procedure)],
      effectiveDateTime: timeOf(read),
      performer: [people.referenceTo(read.by)],
      bodySite: { text: `${eye} eye, retina` },
      ...(agrees ? {} : { note: [{ text: says }] }),
      component: [
        component('spot set in the laser', setSpotUm, 'um'),
        component('factor of the contact lens, from its own label', lensFactor, '1'),
        component('factor of the lens entered into the laser', laserLensFactor, '1'),
        ...(irradianceMwPerCm2 === undefined ? [] : [component('irradiance', irradianceMwPerCm2, 'mW/cm2')]),
        ...(powerMw === undefined ? [] : [component('power', powerMw, 'mW')]),
        component('exposure', exposureS, 's'),
      ],
    }),
  ];
}

/** None where the beam was never on. */
function givenResource(
  naming: Naming,
  record: SessionRecord,
  course: Course,
  exposure: Exposure,
  { patient, procedure, people }: Around,
): Resource[] {
  const { eye, beams, plannedMs, orderedJPerCm2, irradianceMwPerCm2 } = exposure;
  const [first] = beams;
  if (first === undefined) return [];
  const on = beamIsOn(exposure);
  const spotUm = record.plan?.light.find((light) => light.eye === eye)?.spotUm;
  const givenS = on ? null : deliveredMs(exposure, 0) / 1000;
  const by = record.reached.find(({ state }) => state === 'lightDelivery')?.by;
  const words = `light given, ${eye} eye: ${givenS === null ? 'the beam is on' : `${givenS} s of ${plannedMs / 1000} s ordered`}`;
  return [
    resource(naming, 'Observation', `light/${eye}/${record.sessionId}`, [words], {
      status: on || stateOf(record) === 'lightDelivery' ? 'preliminary' : 'final',
      category: PROCEDURE_CATEGORY,
      code: { text: `light given, ${eye} eye` },
      subject: referenceTo(patient),
      partOf: [referenceTo(procedure)],
      effectivePeriod: periodOf(course, first.onAtMs, beams.at(-1)?.offAtMs ?? null),
      ...(by === undefined ? {} : { performer: [people.referenceTo(by)] }),
      bodySite: { text: `${eye} eye, retina` },
      component: [
        ...(givenS === null
          ? []
          : [
              component('light given', givenS, 's'),
              component('fluence given', deliveredJPerCm2(exposure, 0), 'J/cm2'),
            ]),
        component('light ordered', plannedMs / 1000, 's'),
        component('fluence ordered', orderedJPerCm2, 'J/cm2'),
        component('irradiance ordered', irradianceMwPerCm2, 'mW/cm2'),
        ...(spotUm === undefined ? [] : [component('spot on the retina, planned', spotUm, 'um')]),
        component('wavelength prescribed, not read back', PRESCRIBED_WAVELENGTH_NM, 'nm'),
        component("from the infusion's start to the light", (first.onAtMs - course.t0AtMs) / 1000, 's'),
      ],
    }),
  ];
}
