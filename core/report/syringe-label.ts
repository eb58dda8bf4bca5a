import type { SessionRecord } from '../procedure/record.ts';
import { IN_USE_MS } from '../procedure/spans.ts';
import { calendarDate, clockTime } from '../time/show.ts';
import { sheetFileName } from './file-name.ts';
import { marksOf } from './marks.ts';
import { NotYet, type Sheet } from './sheet.ts';

/**
 * The label of the infusate's syringe: drug, amount, volume, diluent, two identifiers, made at and use by with their
 * dates in 24-hour time, made by, checked by.
 *
 * Source of what a label carries: Joint Commission NPSG.03.04.01 (value from memory, verify).
 *
 * @throws NotYet before the drug is made up.
 */
export function syringeLabel(record: SessionRecord): Sheet {
  const { patient, plan, secondCheck, reconstitutedWallMs } = record;
  const made = record.reached.find((reached) => reached.state === 'prepared');
  if (patient === null || plan === null || secondCheck === null || reconstitutedWallMs === null || made === undefined) {
    throw new NotYet('the syringe label is printed once the drug is made up');
  }
  const { doseAfterRoundingMg, totalMl, drugMlRounded, diluentMl, rateMlPerMin, rateMlPerH } = plan.infusate;
  const useBy = `${calendarDate(reconstitutedWallMs + IN_USE_MS, made.offsetMin)} ${clockTime(reconstitutedWallMs + IN_USE_MS, made.offsetMin)}`;
  const dose = `verteporfin ${doseAfterRoundingMg.toFixed(2)} mg in ${totalMl} mL`;
  return {
    fileName: sheetFileName(record, 'syringe-label'),
    title: 'syringe label',
    size: 'label',
    marks: marksOf(record),
    blocks: [
      { kind: 'line', text: dose, strong: true },
      {
        kind: 'line',
        text: `${drugMlRounded.toFixed(2)} mL of drug, 2 mg/mL, and ${diluentMl.toFixed(2)} mL of dextrose 5 %`,
      },
      { kind: 'line', text: `intravenous, ${rateMlPerMin.toFixed(2)} mL/min = ${rateMlPerH.toFixed(0)} mL/h` },
      { kind: 'line', text: `${patient.patientCode} · born ${patient.birthDate}`, strong: true },
      {
        kind: 'rows',
        rows: [
          ['made', `${calendarDate(made.wallMs, made.offsetMin)} ${clockTime(made.wallMs, made.offsetMin)}`],
          ['use by', useBy],
          ['made by', made.by.initials],
          ['checked by', secondCheck.by.initials],
          ['lot', record.drug?.lot ?? '………'],
        ],
      },
      { kind: 'line', text: 'keep from light · never with sodium chloride' },
    ],
    code: [patient.patientCode, patient.birthDate, dose, `use by ${useBy}`].join('|'),
  };
}
