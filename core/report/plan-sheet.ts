import { BSA_FORMULAS } from '../dosing/body-surface-area.ts';
import { DOSE_CAUTION } from '../dosing/plan.ts';
import type { EyeLight, Plan } from '../dosing/plan-schema.ts';
import { blind } from '../procedure/blind.ts';
import { dosesNow } from '../procedure/doses.ts';
import type { Kept, Ordered, SessionRecord } from '../procedure/record.ts';
import { SURE_WORDS } from '../regimen/source.ts';
import { calendarDate, clockTime } from '../time/show.ts';
import { sheetFileName } from './file-name.ts';
import { marksOf } from './marks.ts';
import { type Block, NotYet, type Sheet } from './sheet.ts';

/**
 * The plan of a session on one page: what was ordered and measured, dose and volumes, light for each eye, who computed
 * it and who computed it again, and where each figure comes from.
 *
 * @throws NotYet before two people agree.
 */
export function planSheet(record: SessionRecord): Sheet {
  const { patient, order, measured, plan, secondCheck } = record;
  const agreed = !blind(record) && secondCheck?.agrees === true;
  if (patient === null || order === null || measured === null || plan === null || !agreed) {
    throw new NotYet('the plan sheet is printed once two people have computed the same plan');
  }
  const { regimen } = order;
  const checkedAt = `${calendarDate(secondCheck.wallMs, secondCheck.offsetMin)} ${clockTime(secondCheck.wallMs, secondCheck.offsetMin)}`;
  return {
    fileName: sheetFileName(record, 'plan'),
    title: 'plan of dose and light',
    size: 'page',
    marks: marksOf(record),
    foot: `${patient.patientCode} · born ${patient.birthDate}`,
    blocks: [
      { kind: 'line', text: `${patient.patientCode} · born ${patient.birthDate}`, strong: true },
      ...rows('ordered', orderedRows(order)),
      ...rows('drug', drugRows(record, plan, measured, regimen.doseMgPerM2)),
      ...plan.light.flatMap(lightBlocks),
      ...rows('times', [
        ['infusion', `${regimen.infusionMin} min`],
        ['light', `${regimen.lightStartMin} min after the START of the infusion`],
        ...(regimen.secondEyeLimitMin === null || plan.light.length < 2
          ? []
          : ([['second eye', `begun by ${regimen.secondEyeLimitMin} min after the start`]] as const)),
      ]),
      ...rows('computed by', [
        ['first', [...new Set([order.by.initials, measured.by.initials])].join(', ')],
        ['second, alone', `${secondCheck.by.initials}, ${checkedAt}`],
        ...(record.differed === 0 ? [] : ([['before they agreed', `they differed ${record.differed} times`]] as const)),
      ]),
      ...(plan.cautions.length === 0 ? [] : [{ kind: 'heading', text: 'cautions' } as const]),
      ...plan.cautions.map((text): Block => ({ kind: 'line', text })),
      { kind: 'heading', text: 'sources' },
      ...regimen.sources.map(
        (source): Block => ({ kind: 'line', text: `${source.text} (${SURE_WORDS[source.sure]})` }),
      ),
      { kind: 'line', text: `${BSA_FORMULAS[plan.formula].name}: ${BSA_FORMULAS[plan.formula].source}` },
      { kind: 'line', text: DOSE_CAUTION, strong: true },
    ],
    code: null,
  };
}

type Rows = readonly (readonly [what: string, value: string])[];

function orderedRows({ regimen, orderedBy, offLabelReason, earlierTreatment, bothEyes }: Ordered): Rows {
  return [
    ['regimen', regimen.name],
    ['ordered by', orderedBy],
    ...(offLabelReason === undefined ? [] : ([['off label, because', offLabelReason]] as const)),
    ...(earlierTreatment === undefined ? [] : ([['earlier treatment', earlierTreatment]] as const)),
    ...(bothEyes === undefined
      ? []
      : ([['both eyes, decided by', `${bothEyes.physician}: ${bothEyes.reason}`]] as const)),
  ];
}

function drugRows(record: SessionRecord, plan: Plan, measured: Kept<'measure'>, doseMgPerM2: number): Rows {
  const { infusate } = plan;
  return [
    ['height, weight', `${measured.heightCm.toFixed(1)} cm, ${measured.weightKg.toFixed(1)} kg`],
    ['body surface area', `${plan.bodySurfaceAreaM2.toFixed(2)} m² (${BSA_FORMULAS[plan.formula].name})`],
    ['dose', `${infusate.doseMg.toFixed(2)} mg (${doseMgPerM2} mg/m²)`],
    ['drug, 2 mg/mL', `${infusate.drugMlRounded.toFixed(2)} mL = ${infusate.doseAfterRoundingMg.toFixed(2)} mg`],
    ['dextrose 5 %', `${infusate.diluentMl.toFixed(2)} mL, to ${infusate.totalMl} mL`],
    ['vials', `${infusate.vials}, ${infusate.leftoverMl.toFixed(2)} mL left over`],
    ['rate', `${infusate.rateMlPerMin.toFixed(2)} mL/min = ${infusate.rateMlPerH.toFixed(0)} mL/h`],
    ...lineRows(record),
  ];
}

function lineRows(record: SessionRecord): Rows {
  const doses = dosesNow(record, 0);
  if (record.line === null || doses === null) return [];
  const { lineMl, primedWith } = record.line;
  const leftMg = doses.inLineAtPumpEndMg.toFixed(2);
  return [
    ['line', `${lineMl} mL, primed with ${primedWith === 'drug' ? 'the infusate' : 'dextrose 5 %'}`],
    ['pump ends', `${(doses.pumpEndS / 60).toFixed(1)} min after its start, ${leftMg} mg still in the line`],
  ];
}

const rows = (heading: string, pairs: Rows): Block[] => [
  { kind: 'heading', text: heading },
  { kind: 'rows', rows: pairs },
];

function lightBlocks(light: EyeLight): Block[] {
  return rows(`light, ${light.eye} eye`, [
    ['greatest linear dimension', `${light.gldUm.toFixed(0)} µm`],
    ['spot on the retina', `${light.spotUm.toFixed(0)} µm`],
    ['spot to set', 'spot on the retina divided by the factor of the lens, from its own label'],
    ['light', `${light.exposureS} s at ${light.irradianceMwPerCm2} mW/cm² = ${light.fluenceJPerCm2} J/cm²`],
    [
      'power, energy',
      `${light.powerMw.toFixed(1)} mW, ${light.energyJ.toFixed(2)} J at the retina, losses not counted`,
    ],
  ]);
}
