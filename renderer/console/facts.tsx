import { dosesAt } from '../../core/dosing/line.ts';
import { DOSE_CAUTION } from '../../core/dosing/plan.ts';
import type { Plan } from '../../core/dosing/plan-schema.ts';
import { UNDER_WAY } from '../../core/procedure/states.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { calendarDate, clockTime } from '../../core/time/show.ts';
import { useNow } from '../link/store.ts';

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
          <Fact
            words="out of bright light until"
            value={`${calendarDate(lightCareUntilWallMs, offsetMin)} ${clockTime(lightCareUntilWallMs, offsetMin)}`}
          />
        )}
        {plan !== null && <DoseFacts view={view} plan={plan} />}
      </dl>
      {plan !== null && <p className="facts-caution">{DOSE_CAUTION}</p>}
    </section>
  );
}

function DoseFacts({ view, plan }: { view: SessionView; plan: Plan }) {
  const { infusate, light, bodySurfaceAreaM2, formula } = plan;
  return (
    <>
      <Fact words="dose ordered" value={`${infusate.doseMg.toFixed(2)} mg`} />
      {view.course === null && <Fact words={`area, ${formula}`} value={`${bodySurfaceAreaM2.toFixed(2)} m²`} />}
      <DoseNow view={view} plan={plan} />
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

/** Where the dose is while the pump runs, by what the line holds. */
function DoseNow({ view, plan }: { view: SessionView; plan: Plan }) {
  const nowMs = useNow(1000);
  const { course, line } = view;
  if (view.state !== 'infusing' || course === null || line === null) return null;
  const { infusionRanBeforeMs, infusionRunningSinceAtMs: since } = course;
  const ranMs = infusionRanBeforeMs + (since === null ? 0 : Math.max(0, nowMs - since));
  const doses = dosesAt({ infusate: plan.infusate, ...line, infusedS: ranMs / 1000 });
  return (
    <>
      <Fact words="in the patient, about" value={`${doses.inPatientMg.toFixed(1)} mg`} />
      <Fact words="in the line, about" value={`${doses.inLineMg.toFixed(1)} mg`} />
    </>
  );
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
