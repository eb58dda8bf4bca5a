import type { ExposureMeasure, SessionMeasures } from '../measures.ts';
import type { DeviationRule, Finding } from './shape.ts';
import { fromStart, spanBeside } from './words.ts';

const NO_TOLERANCE = {
  text: 'local practice: the texts give one moment for the light and no tolerance',
  sure: 'local',
} as const;
const LIGHT_DOSE = {
  text: 'local practice: light as ordered; nominal and exact seconds of the label differ by 0.4 %',
  sure: 'local',
} as const;

/** Departures of the light. */
export const LIGHT_RULES = [
  {
    id: 'light-early',
    title: 'light begun early',
    setting: 'lightStartWithinS',
    unit: 's',
    source: NO_TOLERANCE,
    find: (measures, { lightStartWithinS }) => lightStart(measures, lightStartWithinS, -1),
  },
  {
    id: 'light-late',
    title: 'light begun late',
    setting: 'lightStartWithinS',
    unit: 's',
    source: NO_TOLERANCE,
    find: (measures, { lightStartWithinS }) => lightStart(measures, lightStartWithinS, 1),
  },
  {
    id: 'second-eye-late',
    title: 'second eye begun late',
    setting: null,
    unit: 's',
    source: {
      text: 'EU-SmPC: second eye no later than 20 min from the start of the infusion; else as the regimen has it',
      sure: 'found',
    },
    find: ({ secondEye }) => {
      if (secondEye === null || secondEye.startSeq === null) return [];
      const lateMs = secondEye.startOffsetMs ?? 0;
      if (lateMs <= 0) return [];
      const limit = fromStart(secondEye.limitFromT0Ms);
      const words = `the ${secondEye.eye} eye was begun ${spanBeside(lateMs, 0)} after its limit, ${limit}`;
      return [{ seq: secondEye.startSeq, value: lateMs / 1000, limit: 0, words }];
    },
  },
  {
    id: 'light-short',
    title: 'less light than ordered',
    setting: 'exposureWithinShare',
    unit: '%',
    source: LIGHT_DOSE,
    find: (measures, { exposureWithinShare }) => lightGiven(measures, exposureWithinShare, -1),
  },
  {
    id: 'light-over',
    title: 'more light than ordered',
    setting: 'exposureWithinShare',
    unit: '%',
    source: LIGHT_DOSE,
    find: (measures, { exposureWithinShare }) => lightGiven(measures, exposureWithinShare, 1),
  },
] as const satisfies readonly DeviationRule[];

function lightStart({ light }: SessionMeasures, limit: number, sign: 1 | -1): Finding[] {
  if (light === null || light.startSeq === null) return [];
  const apartMs = (light.startOffsetMs ?? 0) * sign;
  if (apartMs / 1000 <= limit) return [];
  const apart = `${spanBeside(apartMs, limit * 1000)} ${sign > 0 ? 'after' : 'before'} its window opened`;
  const words = `light began ${apart}, at ${fromStart(light.startFromT0Ms ?? 0)}`;
  return [{ seq: light.startSeq, value: apartMs / 1000, limit, words }];
}

/** Judged once no more light is to come. */
function lightGiven({ light, exposures }: SessionMeasures, share: number, sign: 1 | -1): Finding[] {
  const overSeq = light?.overSeq ?? null;
  if (overSeq === null) return [];
  return exposures.flatMap((exposure) => {
    const apart = shareApart(exposure) * sign;
    if (apart <= share) return [];
    const { eye, orderedS, deliveredS, orderedJPerCm2, deliveredJPerCm2, beams } = exposure;
    const given = `${Number(deliveredS.toFixed(1))} of ${Number(orderedS.toFixed(1))} s`;
    const dose = `${deliveredJPerCm2.toFixed(1)} of ${orderedJPerCm2.toFixed(1)} J/cm²`;
    const words = `${eye} eye: ${given} of light given, ${dose}`;
    return [{ seq: beams.at(-1)?.offSeq ?? overSeq, value: percent(apart), limit: percent(share), words }];
  });
}

/** How much more was given than ordered, as a share of the ordered; negative where it was less. */
function shareApart({ orderedS, deliveredS }: ExposureMeasure): number {
  const orderedMs = Math.round(orderedS * 1000);
  return (Math.round(deliveredS * 1000) - orderedMs) / orderedMs;
}

const percent = (share: number): number => Math.round(share * 1_000_000) / 10_000;
