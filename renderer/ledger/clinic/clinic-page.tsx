import { useEffect, useMemo, useState } from 'react';
import type { ClinicFigures } from '../../../core/ledger/clinic.ts';
import { ruleById } from '../../../core/ledger/deviations.ts';
import type { FindFilter } from '../../../core/ledger/find-filter.ts';
import type { ClinicReading } from '../../../core/protocol/finding.ts';
import { calendarDate, minutesSeconds } from '../../../core/time/show.ts';
import { askClinic } from '../../link/requests.ts';
import { useSnapshot } from '../../link/store.ts';
import { KeyLine } from '../room/key-line.tsx';
import { type RoomKey, useRoomKeys } from '../room/room-keys.ts';
import { SCROLL_KEYS_TOLD, useScrolling } from '../room/scrolling.ts';
import { Chart } from './chart.tsx';
import { deviationChart, lightStartChart, secondsOf, spanChart } from './charts.ts';
import { NumberTable } from './number-table.tsx';
import './clinic.css';

interface ClinicPageProps {
  /** Days, regimen and practice of it count here too: one looks at the sessions one has found. */
  readonly filter: FindFilter;
  readonly keys: readonly RoomKey[];
}

/** How the clinic is doing: when light was begun, how long things took, what deviated, each drawn and in numbers. */
export function ClinicPage({ filter, keys }: ClinicPageProps) {
  const place = useScrolling();
  const reading = useClinic(filter);
  useRoomKeys(keys);
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is to be reached by the keyboard */}
      <section ref={place} className="clinic" aria-label="clinic" tabIndex={0}>
        {typeof reading === 'string' && <p className="missing">{reading}</p>}
        {reading !== null && typeof reading === 'object' && <Figures reading={reading} filter={filter} />}
      </section>
      <KeyLine keys={keys} told={[SCROLL_KEYS_TOLD]} />
    </>
  );
}

/** The clinic's figures, or why there are none; null until they are known. Asked for again when something is written. */
function useClinic({ fromWallMs, toWallMs, regimenId, practice }: FindFilter): ClinicReading | string | null {
  const snapshot = useSnapshot();
  const own = snapshot?.practice ? 'practice' : 'real';
  const written = snapshot?.sessions.map(({ sessionId, state }) => `${sessionId} ${state}`).join();
  const [reading, setReading] = useState<ClinicReading | string | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is written decides when to ask again
  useEffect(() => {
    let wanted = true;
    const asked = { fromWallMs, toWallMs, regimenId, practice: practice ?? own } as const;
    const given = Object.entries(asked).filter(([, value]) => value !== undefined);
    void askClinic(Object.fromEntries(given)).then((answer) => {
      if (wanted) setReading(answer.type === 'error' ? answer.says : answer);
    });
    return () => {
      wanted = false;
    };
  }, [fromWallMs, toWallMs, regimenId, practice, own, written]);
  return reading;
}

function Figures({ reading, filter }: { reading: ClinicReading; filter: FindFilter }) {
  const { figures, pointsLeftOut, indexed } = reading;
  const { lightStarts, infusions, flushes, deviations, holds } = figures;
  const still = indexed.of - indexed.sessions;
  return (
    <>
      <p className="clinic-of">
        {figures.sessions} {figures.sessions === 1 ? 'session' : 'sessions'}
        {filter.fromWallMs === undefined && filter.toWallMs === undefined ? ', all days' : ', of the days looked for'}
        {still > 0 && ` · ${still} more are still being read`}
      </p>
      <LightStarts lightStarts={lightStarts} leftOut={pointsLeftOut} />
      <Spans title="length of the infusion" spans={infusions} label="seconds the pump ran" />
      <Spans title="length of the flush" spans={flushes} label="seconds the flush took" />
      <Deviations deviations={deviations} />
      {holds.length > 0 && (
        <section className="clinic-part">
          <h2>holds of the infusion</h2>
          <NumberTable
            caption="holds by reason"
            heads={['reason', 'holds', 'held in all']}
            rows={holds.map(({ reason, holds: count, heldMs }) => [reason, count, minutesSeconds(heldMs).text])}
          />
        </section>
      )}
    </>
  );
}

function LightStarts({ lightStarts, leftOut }: { lightStarts: ClinicFigures['lightStarts']; leftOut: number }) {
  const { points, medianMs, limitMs, outside } = lightStarts;
  const draw = useMemo(() => () => lightStartChart(lightStarts), [lightStarts]);
  if (medianMs === null) return <p className="clinic-none">no light has been begun in these sessions</p>;
  const late = points.filter(({ offsetMs }) => Math.abs(offsetMs) > limitMs);
  return (
    <section className="clinic-part">
      <h2>light start against its due instant</h2>
      <Chart draw={draw} label={`run chart of ${points.length} light starts, median ${secondsOf(medianMs)} s`} />
      {leftOut > 0 && <p className="clinic-none">the {leftOut} oldest are counted, and not drawn</p>}
      <NumberTable
        caption="light starts"
        heads={['figure', 'value']}
        rows={[
          ['light starts', points.length + leftOut],
          ['median, s', secondsOf(medianMs)],
          ['limit either way, s', secondsOf(limitMs)],
          ['outside the limit', outside],
        ]}
      />
      {late.length > 0 && (
        <NumberTable
          caption={`outside the limit, newest first${late.length > MOST_TOLD ? `, ${MOST_TOLD} of them` : ''}`}
          heads={['session opened', 'light start, s']}
          rows={[...late]
            .reverse()
            .slice(0, MOST_TOLD)
            .map(({ openedWallMs, offsetMin, offsetMs }, index) => [
              `${calendarDate(openedWallMs, offsetMin)} (${index + 1})`,
              signed(secondsOf(offsetMs)),
            ])}
        />
      )}
    </section>
  );
}

/** More rows than this nobody reads: the list of sessions has them, with their reasons. */
const MOST_TOLD = 20;

const signed = (value: number): string => (value < 0 ? `−${-value}` : `+${value}`);

interface SpansProps {
  readonly title: string;
  readonly spans: ClinicFigures['infusions'];
  readonly label: string;
}

function Spans({ title, spans, label }: SpansProps) {
  const draw = useMemo(() => spans && (() => spanChart(spans, label)), [spans, label]);
  if (spans === null || draw === null) return null;
  const { count, medianMs, p5Ms, p95Ms } = spans;
  return (
    <section className="clinic-part">
      <h2>{title}</h2>
      <Chart draw={draw} label={`${title}: ${count}, median ${secondsOf(medianMs)} s`} />
      <NumberTable
        caption={`${title}, seconds`}
        heads={['figure', 'value']}
        rows={[
          ['how many', count],
          ['5 % are shorter than', secondsOf(p5Ms)],
          ['median', secondsOf(medianMs)],
          ['5 % are longer than', secondsOf(p95Ms)],
        ]}
      />
    </section>
  );
}

function Deviations({ deviations }: { deviations: ClinicFigures['deviations'] }) {
  const draw = useMemo(() => () => deviationChart(deviations), [deviations]);
  const { months, sessions, kinds } = deviations;
  if (kinds.length === 0) return <p className="clinic-none">no deviation in these sessions</p>;
  return (
    <section className="clinic-part">
      <h2>deviations by kind and month</h2>
      <Chart draw={draw} label={`${kinds.length} kinds of deviation over ${months.length} months`} />
      <NumberTable
        caption="deviations by kind and month"
        heads={['kind', ...months]}
        rows={[...kinds.map(({ id, counts }) => [ruleById(id).title, ...counts]), ['sessions opened', ...sessions]]}
      />
    </section>
  );
}
