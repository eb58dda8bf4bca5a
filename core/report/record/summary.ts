import type { SessionMeasures } from '../../ledger/measures.ts';
import type { SessionRecord } from '../../procedure/record.ts';
import { STATE_WORDS } from '../../procedure/states.ts';
import { recordTime } from '../../time/show.ts';

type Row = readonly [what: string, value: string];

/** What a reader looks for first. */
export function summaryOf(record: SessionRecord, measures: SessionMeasures): Row[] {
  const { patient, order, plan, measured } = record;
  const { t0, lots, people, stoppedEarly } = measures;
  return [
    ['patient', patient === null ? 'not identified' : `${patient.patientCode} · born ${patient.birthDate}`],
    ['opened', recordTime(measures.openedWallMs, measures.offsetMin)],
    ['state', STATE_WORDS[measures.state]],
    ...(stoppedEarly === null ? [] : [row('stopped early', stoppedEarly.reason)]),
    ...(order === null ? [] : [row('regimen', `${order.regimen.name}, ordered by ${order.orderedBy}`)]),
    ...(measured === null ? [] : [row('height, weight', `${measured.heightCm} cm, ${measured.weightKg} kg`)]),
    ...(plan === null
      ? []
      : [row('dose', `${plan.infusate.doseAfterRoundingMg.toFixed(2)} mg in ${plan.infusate.totalMl} mL`)]),
    ...(lots.length === 0 ? [] : [row('lots', lots.join(', '))]),
    ...(t0 === null ? [] : [row('T0, pump on', recordTime(t0.wallMs, t0.offsetMin))]),
    ...drugRows(measures),
    ...lightRows(measures),
    row('people', people.map(({ initials, role }) => `${initials}, ${role}`).join('; ')),
  ];
}

const row = (what: string, value: string): Row => [what, value];
const seconds = (ms: number): string => `${(ms / 1000).toFixed(1)} s`;

function drugRows({ infusion, flush, holds, reconstitution }: SessionMeasures): Row[] {
  const rows: Row[] = [];
  if (infusion !== null)
    rows.push(['infusion', `ran ${seconds(infusion.ranMs)} of ${seconds(infusion.plannedMs)} planned`]);
  for (const { reason, heldMs } of holds)
    rows.push(['held', `${reason}, ${heldMs === null ? 'still held' : seconds(heldMs)}`]);
  if (flush?.skipped != null) rows.push(['flush', flush.skipped.how]);
  else if (flush?.ranMs != null) rows.push(['flush', `${flush.flushMl} mL in ${seconds(flush.ranMs)}`]);
  const inUseMs = reconstitution?.toInfusionEndMs ?? null;
  if (inUseMs !== null)
    rows.push(['drug in use', `${(inUseMs / 60_000).toFixed(1)} min from reconstitution to the infusion's end`]);
  return rows;
}

function lightRows({ light, exposures }: SessionMeasures): Row[] {
  const offsetMs = light?.startOffsetMs ?? null;
  const start: Row[] = offsetMs === null ? [] : [['light begun', offsetWords(offsetMs)]];
  return [
    ...start,
    ...exposures.map(({ eye, deliveredS, orderedS, deliveredJPerCm2, orderedJPerCm2 }) =>
      row(
        `light, ${eye} eye`,
        `${deliveredS.toFixed(1)} of ${orderedS} s, ${deliveredJPerCm2.toFixed(1)} of ${orderedJPerCm2} J/cm² ordered`,
      ),
    ),
  ];
}

function offsetWords(offsetMs: number): string {
  if (Math.abs(offsetMs) < 50) return 'when it was due';
  return `${seconds(Math.abs(offsetMs))} ${offsetMs < 0 ? 'before' : 'after'} it was due`;
}
