import { DOSE_CAUTION } from '../../core/dosing/plan.ts';
import type { Plan } from '../../core/dosing/plan-schema.ts';
import { UNDER_WAY } from '../../core/procedure/states.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { inZone, notComingTwice } from '../../core/time/in-zone.ts';
import { clockTime, minutesSeconds } from '../../core/time/show.ts';
import './facts.css';

/** Times, dose and light of a session, and what to be careful about. */
export function Facts({ view, offsetMin }: { view: SessionView; offsetMin: number }) {
  const { plan, course, drugUseByWallMs, lightCareUntilWallMs } = view;
  return (
    <section className="facts" aria-label="dose and light">
      <dl>
        {course !== null && <Fact words="T0, pump on" value={clockTime(course.t0WallMs, course.t0OffsetMin, true)} />}
        {drugUseByWallMs !== null && !pumpIsOff(view) && (
          <Fact words="drug to be used by" value={clockTime(drugUseByWallMs, offsetMin)} />
        )}
        {lightCareUntilWallMs !== null && !UNDER_WAY.includes(view.state) && (
          <Fact words="out of bright light until" value={localMinute(lightCareUntilWallMs, view.settings.zone)} />
        )}
        {plan !== null && <DoseFacts view={view} plan={plan} />}
      </dl>
      {plan !== null && <p className="facts-caution">{DOSE_CAUTION}</p>}
    </section>
  );
}

/** As the patient's sheet has it: by the clocks of that day, which may have been changed by then. */
function localMinute(wallMs: number, siteZone: string | null): string {
  const zone = siteZone ?? new Intl.DateTimeFormat().resolvedOptions().timeZone;
  const { date, time } = inZone(notComingTwice(wallMs, zone), zone);
  return `${date} ${time}`;
}

function DoseFacts({ view, plan }: { view: SessionView; plan: Plan }) {
  const { infusate, light, bodySurfaceAreaM2, formula } = plan;
  return (
    <>
      {!isUnderWay(view) && <Fact words="dose ordered" value={`${infusate.doseMg.toFixed(2)} mg`} />}
      {view.course === null && <Fact words={`area, ${formula}`} value={`${bodySurfaceAreaM2.toFixed(2)} m²`} />}
      <DoseNow view={view} />
      {!pumpIsOff(view) && (
        <>
          <Fact words="drug" value={`${infusate.drugMlRounded.toFixed(1)} mL`} />
          <Fact words="dextrose 5 %" value={`${infusate.diluentMl.toFixed(1)} mL`} />
          <Fact
            words="pump"
            value={`${infusate.rateMlPerMin.toFixed(2)} mL/min · ${infusate.rateMlPerH.toFixed(0)} mL/h`}
          />
        </>
      )}
      {light.map(({ eye, spotUm, exposureS, fluenceJPerCm2 }) => (
        <Fact key={eye} words={`${eye} eye`} value={`${spotUm} µm · ${exposureS} s · ${fluenceJPerCm2} J/cm²`} />
      ))}
    </>
  );
}

const pumpIsOff = ({ course }: SessionView): boolean => course !== null && course.pumpOffAtMs !== null;

const WHILE_DRUG_MOVES: readonly SessionView['state'][] = ['infusing', 'flushing', 'waitingForLight'];

const isUnderWay = ({ state, doses }: SessionView): boolean => doses !== null && WHILE_DRUG_MOVES.includes(state);

/** Where the dose is, by what the line holds; before the pump has started, when it will end. */
function DoseNow({ view }: { view: SessionView }) {
  const { doses, line, course } = view;
  if (doses === null) return null;
  if (course === null) {
    const planned = `${minutesSeconds(doses.pumpEndS * 1000).text} min after its start`;
    return line === null ? null : <Fact words="pump ends" value={planned} />;
  }
  if (!isUnderWay(view)) return null;
  return (
    <>
      <Fact words="in the patient, about" value={mg(doses.inPatientMg)} />
      <Fact words="in the line, about" value={line === null ? 'line not known' : mg(doses.inLineMg)} />
      <Fact words="ordered, as drawn up" value={mg(doses.orderedMg)} />
      {doses.notDeliveredMg !== null && <Fact words="not delivered, about" value={mg(doses.notDeliveredMg)} />}
      <PumpEnd course={course} />
    </>
  );
}

const mg = (doseMg: number): string => `${doseMg.toFixed(2)} mg`;

function PumpEnd({ course }: { course: NonNullable<SessionView['course']> }) {
  const { held, infusionDueAtMs, pumpOffAtMs, t0AtMs, t0WallMs, t0OffsetMin } = course;
  const atMs = pumpOffAtMs ?? infusionDueAtMs;
  if (atMs === null) return held ? <Fact words="pump ends" value="held" /> : null;
  const time = clockTime(t0WallMs + atMs - t0AtMs, t0OffsetMin, true);
  return <Fact words={pumpOffAtMs === null ? 'pump ends' : 'pump off'} value={time} />;
}

function Fact({ words, value }: { words: string; value: string }) {
  return (
    <div className="fact">
      <dt>{words}</dt>
      <dd>{value}</dd>
    </div>
  );
}

export function Cautions({ cautions }: { cautions: readonly string[] }) {
  if (cautions.length === 0) return null;
  return (
    <ul className="cautions" aria-label="cautions">
      {cautions.map((caution) => (
        <li key={caution}>{caution}</li>
      ))}
    </ul>
  );
}
