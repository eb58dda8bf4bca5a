import type { SessionMeasures } from '../measures.ts';
import type { DeviationRule, Finding } from './shape.ts';
import { fromStart, mgWords, spanBeside, spanWords } from './words.ts';

const MINUTE_MS = 60_000;

const NO_TOLERANCE = { text: 'local practice: no tolerance is published', sure: 'local' } as const;
const NO_RETIMING = { text: 'local practice: no rule for a held infusion is published', sure: 'local' } as const;
const FLUSH = { text: 'local practice: the flush of about 60 s is common practice, no source', sure: 'local' } as const;
const PLUG_FLOW = {
  text: 'computed: what the line holds, as if volumes moved along it in order and did not mix',
  sure: 'computed',
} as const;

/** Departures of the infusion, the flush and the drug. */
export const DRUG_RULES = [
  {
    id: 'in-use-exceeded',
    title: 'drug used after its time',
    setting: 'inUseMaxMin',
    unit: 'min',
    source: { text: 'EU-SmPC and PMC2274995 table 1: to be used within 4 h of reconstitution', sure: 'found' },
    find: ({ reconstitution, infusion }, { inUseMaxMin: limit }) => {
      const spanMs = reconstitution?.toInfusionEndMs ?? 0;
      if (infusion?.endSeq == null || spanMs / MINUTE_MS <= limit) return [];
      const words = `the infusion ended ${spanBeside(spanMs, limit * MINUTE_MS)} after reconstitution`;
      return [{ seq: infusion.endSeq, value: spanMs / MINUTE_MS, limit, words }];
    },
  },
  {
    id: 'infusion-short',
    title: 'infusion shorter than planned',
    setting: 'infusionWithinS',
    unit: 's',
    source: NO_TOLERANCE,
    find: (measures, { infusionWithinS }) => infusionLength(measures, infusionWithinS, -1),
  },
  {
    id: 'infusion-long',
    title: 'infusion longer than planned',
    setting: 'infusionWithinS',
    unit: 's',
    source: NO_TOLERANCE,
    find: (measures, { infusionWithinS }) => infusionLength(measures, infusionWithinS, 1),
  },
  {
    id: 'infusion-held',
    title: 'infusion held',
    setting: 'holdMaxS',
    unit: 's',
    source: NO_RETIMING,
    find: ({ holds }, { holdMaxS: limit }) =>
      holds.flatMap(({ seq, heldMs, reason, fromT0Ms }) => {
        if (heldMs === null || heldMs / 1000 <= limit) return [];
        const words = `the infusion was held for ${spanBeside(heldMs, limit * 1000)} at ${fromStart(fromT0Ms)}: ${reason}`;
        return [{ seq, value: heldMs / 1000, limit, words }];
      }),
  },
  {
    id: 'flush-short',
    title: 'flush shorter than planned',
    setting: 'flushWithinS',
    unit: 's',
    source: FLUSH,
    find: (measures, { flushWithinS }) => flushLength(measures, flushWithinS, -1),
  },
  {
    id: 'flush-long',
    title: 'flush longer than planned',
    setting: 'flushWithinS',
    unit: 's',
    source: FLUSH,
    find: (measures, { flushWithinS }) => flushLength(measures, flushWithinS, 1),
  },
  {
    id: 'flush-skipped',
    title: 'flush skipped',
    setting: null,
    unit: 'mg',
    source: PLUG_FLOW,
    find: ({ flush }) => {
      if (flush === null || flush.skipped === null) return [];
      const { seq, how, inLineMg, inSyringeMg } = flush.skipped;
      const line =
        inLineMg === null
          ? 'what the line held is not known'
          : `${how === 'cut short' ? 'up to ' : ''}${mgWords(inLineMg)} stayed in the line`;
      const words = `the flush was ${how}: ${line}, ${mgWords(inSyringeMg)} in the syringe`;
      return [{ seq, value: inLineMg, limit: null, words }];
    },
  },
  {
    id: 'drug-left-in-line',
    title: 'drug left in the line',
    setting: 'leftInLineMaxMg',
    unit: 'mg',
    source: PLUG_FLOW,
    find: ({ flush }, { leftInLineMaxMg: limit }) => {
      const leftMg = flush?.notDeliveredMg ?? 0;
      if (flush?.endSeq == null || leftMg <= limit) return [];
      const words = `a flush of ${flush.flushMl ?? 0} mL left ${mgWords(leftMg)} of the drug in the line`;
      return [{ seq: flush.endSeq, value: leftMg, limit, words }];
    },
  },
] as const satisfies readonly DeviationRule[];

function infusionLength({ infusion }: SessionMeasures, limit: number, sign: 1 | -1): Finding[] {
  if (infusion === null || infusion.endSeq === null) return [];
  const { ranMs, plannedMs, endSeq } = infusion;
  return lengthFinding('the pump ran', { seq: endSeq, ranMs, plannedMs }, limit, sign);
}

function flushLength({ flush }: SessionMeasures, limit: number, sign: 1 | -1): Finding[] {
  if (flush === null || flush.ranMs === null || flush.endSeq === null) return [];
  const { ranMs, plannedMs, endSeq } = flush;
  return lengthFinding('the flush took', { seq: endSeq, ranMs, plannedMs }, limit, sign);
}

/** By how much something ran longer than planned, or, with a sign of -1, shorter. */
function lengthFinding(
  what: string,
  { seq, ranMs, plannedMs }: { readonly seq: number; readonly ranMs: number; readonly plannedMs: number },
  limit: number,
  sign: 1 | -1,
): Finding[] {
  const apartMs = (ranMs - plannedMs) * sign;
  if (apartMs / 1000 <= limit) return [];
  const apart = `${spanBeside(apartMs, limit * 1000)} ${sign > 0 ? 'longer' : 'shorter'} than planned`;
  return [{ seq, value: apartMs / 1000, limit, words: `${what} ${spanWords(ranMs)}, ${apart}` }];
}
