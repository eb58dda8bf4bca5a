import { reckonPlan } from '../dosing/plan.ts';
import type { Plan } from '../dosing/plan-schema.ts';
import { mustLieWithin } from '../dosing/plausible.ts';
import { readBack } from '../light/read-back.ts';
import { LIGHT_LIMITS, lesionUmFromImage, setSpotUm } from '../light/spot.ts';
import { REGIMENS, type Regimen, regimenAmong } from '../regimen/regimens.ts';
import type { Settings } from '../settings/settings.ts';
import type { Command, CommandOf } from './commands.ts';
import type { Missing } from './conditions.ts';
import { flushed } from './doses.ts';
import type { Difference, Found } from './events.ts';
import type { Lesion, SessionRecord } from './record.ts';

/** What a site offers beside what every record says for itself. */
export interface House {
  readonly regimens: readonly Regimen[];
}

export const BUILT_IN: House = { regimens: REGIMENS };

/**
 * What the station works out while it writes a command down. Kept in the entry, so that replay shows what people saw.
 *
 * @throws RangeError, with a sentence for the person, where the regimen is not on offer or not reasoned for, or where
 * height, weight and order come to no possible plan.
 */
export function findingsFor(
  command: Command,
  record: SessionRecord,
  missing: readonly Missing[],
  house = BUILT_IN,
): Found {
  const overridden = missing.length > 0 ? { missing: missing.map((one) => one.text) } : {};
  return { ...overridden, ...worked(command, record, house) };
}

function worked(command: Command, record: SessionRecord, house: House): Found {
  switch (command.kind) {
    case 'order':
      return ordered(command, record, house);
    case 'measure':
      return record.order === null ? {} : { plan: planOf(record.order, command, record.settings) };
    case 'second-check':
      return compared(command, record, house);
    case 'read-back':
      return seen(command, record);
    case 'end-flush':
      return flushed(record, command.flushMl);
    default:
      return {};
  }
}

function ordered(order: CommandOf<'order'>, record: SessionRecord, house: House): Found {
  const regimen = regimenAmong(house.regimens, order.regimenId);
  if (!regimen.onLabel && order.offLabelReason === undefined) {
    throw new RangeError(`"${regimen.name}" is off label: enter the ordering physician's reason.`);
  }
  const lesions = lesionsOf(order.lesions);
  const plan = record.measured === null ? {} : { plan: planOf({ regimen, lesions }, record.measured, record.settings) };
  return { regimen, lesions, ...plan };
}

/**
 * Every lesion on the retina, whichever way it was measured. To the micrometre: finer is not measured.
 *
 * @throws RangeError where an image and its magnification come to no possible lesion.
 */
function lesionsOf(entered: CommandOf<'order'>['lesions']): Lesion[] {
  return entered.map((one) => {
    const gldUm = 'gldUm' in one ? one.gldUm : Math.round(lesionUmFromImage(one.imageMm, one.cameraMagnification));
    mustLieWithin('Greatest linear dimension', gldUm, LIGHT_LIMITS.gldUm, 'um');
    const camera = 'imageMm' in one ? { cameraMagnification: one.cameraMagnification } : {};
    const disc = one.discDistanceUm === undefined ? {} : { discDistanceUm: one.discDistanceUm };
    return { eye: one.eye, gldUm, ...camera, ...disc };
  });
}

interface ToPlan {
  readonly regimen: Regimen;
  readonly lesions: readonly Lesion[];
}

function planOf({ regimen, lesions }: ToPlan, body: { heightCm: number; weightKg: number }, settings: Settings): Plan {
  const { formula, graduationMl, formulaSpreadShare } = settings;
  const { heightCm, weightKg } = body;
  return reckonPlan({ heightCm, weightKg, formula, regimen, graduationMl, formulaSpreadShare, lesions });
}

function compared(second: CommandOf<'second-check'>, record: SessionRecord, house: House): Found {
  const { order, measured, plan } = record;
  if (order === null || measured === null || plan === null) return {};
  const regimen = regimenAmong(house.regimens, second.regimenId);
  const lesions = lesionsOf(second.lesions);
  const other = planOf({ regimen, lesions }, second, record.settings);
  const rows: [string, string | number, string | number][] = [
    ['height, cm', measured.heightCm, second.heightCm],
    ['weight, kg', measured.weightKg, second.weightKg],
    ['regimen', ...regimenWords(order.regimen, regimen)],
    ['eyes and lesions, µm', lesionWords(order.lesions), lesionWords(lesions)],
    ['dose, mg', plan.infusate.doseMg, other.infusate.doseMg],
    ['drug, mL', plan.infusate.drugMlRounded, other.infusate.drugMlRounded],
  ];
  const differences: Difference[] = rows
    .filter(([, one, two]) => one !== two)
    .map(([what, one, two]) => ({ what, ...sideBySide(one, two) }));
  const agrees = differences.length === 0;
  return { agrees, differences, ...(agrees && record.differed > 0 ? { afterDifference: true } : {}) };
}

const lesionWords = (lesions: readonly Lesion[]): string =>
  lesions
    .map(
      ({ eye, gldUm, discDistanceUm }) =>
        `${eye} ${gldUm}${discDistanceUm === undefined ? '' : `, disc at ${discDistanceUm}`}`,
    )
    .join(', then ');

/** Names tell regimens apart, but for a site's own that has the name of another: then what they prescribe does. */
function regimenWords(one: Regimen, other: Regimen): [string, string] {
  return one.name === other.name ? [schemeWords(one), schemeWords(other)] : [one.name, other.name];
}

const schemeWords = (regimen: Regimen): string =>
  `${regimen.name}: ${regimen.doseMgPerM2} mg/m² in ${regimen.totalMl} mL over ${regimen.infusionMin} min, ` +
  `light at ${regimen.lightStartMin} min, ${secondEyeWords(regimen)}, ` +
  `${regimen.fluenceJPerCm2} J/cm² at ${regimen.irradianceMwPerCm2} mW/cm² for ${regimen.exposureS} s`;

const secondEyeWords = ({ secondEyeLimitMin }: Regimen): string =>
  secondEyeLimitMin === null ? 'second eye: no limit published' : `second eye by ${secondEyeLimitMin} min`;

/** Rounded for people, unless that hides the difference. */
function sideBySide(one: string | number, two: string | number): { first: string; second: string } {
  const [first, second] = [shown(one), shown(two)];
  return first === second ? { first: String(one), second: String(two) } : { first, second };
}

const shown = (value: string | number): string =>
  typeof value === 'number' ? String(Number(value.toFixed(4))) : value;

function seen(shownByLaser: CommandOf<'read-back'>, record: SessionRecord): Found {
  const planned = record.plan?.light.find((light) => light.eye === shownByLaser.eye);
  if (planned === undefined) return {};
  const { spotUm, irradianceMwPerCm2, exposureS } = planned;
  const { lensFactor, powerMw } = shownByLaser;
  const light = powerMw === undefined ? { irradianceMwPerCm2: shownByLaser.irradianceMwPerCm2 ?? 0 } : { powerMw };
  const back = readBack({
    planned: { spotUm, irradianceMwPerCm2, exposureS, lensFactor, setSpotUm: setSpotUm(spotUm, lensFactor) },
    shown: {
      setSpotUm: shownByLaser.setSpotUm,
      lensFactor: shownByLaser.laserLensFactor,
      seconds: shownByLaser.exposureS,
      ...light,
    },
  });
  return { agrees: back.agrees, says: back.says };
}
