import { MACHINE_RULES } from '../ledger/deviations/machine.ts';
import { spanWords } from '../ledger/deviations/words.ts';
import { type DeviationId, deviationsOf, type FoundDeviation } from '../ledger/deviations.ts';
import type { SessionMeasures } from '../ledger/measures.ts';
import type { SessionRecord } from '../procedure/record.ts';
import type { Limits } from '../settings/limits.ts';
import type { ReviewLine } from './guide-schema.ts';
import { type Judged, judge } from './judging.ts';
import { madeUpById } from './made-up-troubles.ts';
import { type Thrown, toldWords } from './thrown.ts';

/** Real seconds that a press may take, for which a clock that runs faster is allowed to run on. Our own, no source. */
export const PRESS_S = 4;

export interface Reviewed {
  readonly record: SessionRecord;
  readonly measures: SessionMeasures;
  readonly thrown: readonly Thrown[];
  readonly limits: Limits;
  /** How many times faster than real time the clock runs. */
  readonly rate: number;
}

/** What went well in a practice session that is over, and what to look at again: by the rules that auditors read by. */
export function reviewOf({ record, measures, thrown, limits, rate }: Reviewed): ReviewLine[] {
  // Of a session that is over it makes no difference when it is read.
  const judged = thrown.map((one) => ({ thrown: one, judged: judge(one, record, Number.POSITIVE_INFINITY) }));
  const departures = deviationsOf(measures, limitsAt(limits, rate)).filter(
    (one) => !OF_THE_MACHINE.has(one.ruleId) && !broughtAbout(one, measures, judged, record),
  );
  const departed = idsOf(departures);
  const beyondTheSites = idsOf(deviationsOf(measures, limits));
  const kept = KEPT.filter(({ rules }) => !rules.some((rule) => departed.has(rule))).flatMap(
    ({ rules, timed, says }) => {
      const words = says(measures);
      if (words === null) return [];
      const allowed = timed === true && rules.some((rule) => beyondTheSites.has(rule));
      return [{ well: true, words: allowed ? `${words}, on a clock ${rate} times as fast` : words }];
    },
  );
  return [
    ...judged.map((one) => lineOf(one.thrown, one.judged)),
    ...kept,
    ...departures.map(({ words }) => ({ well: false, words })),
  ];
}

const idsOf = (found: readonly FoundDeviation[]): ReadonlySet<DeviationId> =>
  new Set(found.map(({ ruleId }) => ruleId));

/** A person presses no faster where the clock does: the limits of what is pressed are that much wider. */
export function limitsAt(limits: Limits, rate: number): Limits {
  const moreS = PRESS_S * Math.max(0, rate - 1);
  return {
    ...limits,
    lightStartWithinS: limits.lightStartWithinS + moreS,
    infusionWithinS: limits.infusionWithinS + moreS,
    flushWithinS: limits.flushWithinS + moreS,
  };
}

interface JudgedThrown {
  readonly thrown: Thrown;
  readonly judged: Judged;
}

/** What the computer did is nothing that a nurse could have done better. */
const OF_THE_MACHINE = new Set<DeviationId>(MACHINE_RULES.map(({ id }) => id));

/** What answers made-up trouble is what was asked for: a hold, going on after swelling, one difference over the weight. */
function broughtAbout(
  { ruleId, seq }: FoundDeviation,
  { holds, overriddenGuards, doubleChecks }: SessionMeasures,
  judged: readonly JudgedThrown[],
  { course }: SessionRecord,
): boolean {
  const answers = judged.flatMap(({ thrown, judged: { became, ...rest } }) => {
    const tookMs = 'tookMs' in rest ? rest.tookMs : null;
    return course === null || tookMs === null
      ? []
      : [{ trouble: thrown.trouble, fromT0Ms: Math.round(thrown.atMs + tookMs * thrown.rate - course.t0AtMs) }];
  });
  if (ruleId === 'check-after-difference') {
    const weighed = judged.some(
      ({ thrown, judged: { became } }) => thrown.trouble === 'wrong-weight' && became === 'met',
    );
    return weighed && doubleChecks.filter(({ agrees }) => !agrees).length === 1;
  }
  if (ruleId === 'infusion-held') {
    const hold = holds.find((one) => one.seq === seq);
    return answers.some(({ fromT0Ms }) => fromT0Ms === hold?.fromT0Ms);
  }
  const step = overriddenGuards.find((one) => one.seq === seq)?.step;
  return ruleId === 'guard-overridden' && step === 'resume' && answers.some(({ trouble }) => trouble === 'swelling');
}

function lineOf(thrown: Thrown, judged: Judged): ReviewLine {
  const words = toldWords(thrown);
  const { answer, answeredBy, withinS } = madeUpById(thrown.trouble);
  if (answeredBy.by === 'putting the weight right') {
    return judged.became === 'met'
      ? { well: true, words: `${words}: no drug was made up for another weight` }
      : { well: false, words: `${words}: the drug was made up for another weight. Next time: ${answer}` };
  }
  const tookS = 'tookMs' in judged && judged.tookMs !== null ? Math.round(judged.tookMs / 100) / 10 : null;
  if (judged.became === 'met') {
    return tookS === null
      ? { well: true, words: `${words}: nobody began before the window` }
      : { well: true, words: `${words}: answered in ${tookS} s` };
  }
  if (judged.became === 'late') {
    return { well: false, words: `${words}: answered after ${tookS} s; the aim was ${withinS} s` };
  }
  return withinS === null
    ? { well: false, words: `${words}: light was begun before its window` }
    : { well: false, words: `${words}: not answered. Next time: ${answer}` };
}

/** What stands as gone well where none of its rules found anything; null where the session never came so far. */
interface Kept {
  readonly rules: readonly DeviationId[];
  /** Its limits are wider where the clock runs faster: what needed that says so. */
  readonly timed?: true;
  readonly says: (measures: SessionMeasures) => string | null;
}

const KEPT: readonly Kept[] = [
  {
    rules: ['check-by-same-hands'],
    says: ({ doubleChecks }) => (doubleChecks.length === 0 ? null : 'the second computation was by other hands'),
  },
  {
    rules: ['check-after-difference'],
    says: ({ doubleChecks }) => {
      const agreed = doubleChecks.filter(({ agrees }) => agrees);
      if (agreed.length === 0) return null;
      return agreed.some(({ afterDifference }) => afterDifference)
        ? 'the second computation found the wrong weight, and agreed once it was put right'
        : 'the second computation agreed at the first try';
    },
  },
  {
    rules: ['infusion-short', 'infusion-long'],
    timed: true,
    says: ({ infusion }) =>
      infusion?.endSeq == null
        ? null
        : `the pump ran ${spanWords(infusion.ranMs)}, of ${spanWords(infusion.plannedMs)} planned`,
  },
  {
    rules: ['flush-short', 'flush-long', 'flush-skipped', 'drug-left-in-line'],
    timed: true,
    says: ({ flush }) => (flush?.ranMs == null ? null : `the flush took ${spanWords(flush.ranMs)}`),
  },
  {
    rules: ['light-early', 'light-late'],
    timed: true,
    says: ({ light }) => {
      const offsetMs = light?.startOffsetMs ?? null;
      if (offsetMs === null) return null;
      return offsetMs < 0
        ? `light began ${spanWords(-offsetMs)} before its window opened`
        : `light began ${spanWords(offsetMs)} after its window opened`;
    },
  },
  {
    rules: ['second-eye-late'],
    says: ({ secondEye }) => (secondEye?.startSeq == null ? null : 'the second eye was begun in time'),
  },
  {
    rules: ['light-short', 'light-over'],
    says: ({ light }) => (light?.overSeq == null || light.startSeq === null ? null : 'the light was given as ordered'),
  },
  {
    rules: ['guard-overridden'],
    says: ({ t0, overriddenGuards }) => {
      if (t0 === null) return null;
      return overriddenGuards.length === 0
        ? 'no step was forced'
        : 'after the swelling the infusion went on with a reason, as it has to';
    },
  },
];
