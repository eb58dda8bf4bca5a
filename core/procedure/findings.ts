import { reckonPlan } from '../dosing/plan.ts';
import type { Plan } from '../dosing/plan-schema.ts';
import { readBack } from '../light/read-back.ts';
import { setSpotUm } from '../light/spot.ts';
import { regimenById } from '../regimen/regimens.ts';
import type { Command, CommandOf } from './commands.ts';
import type { Missing } from './conditions.ts';
import type { Found } from './events.ts';
import type { SessionRecord } from './record.ts';

/**
 * What the station works out while it writes a command down. Kept in the entry, so that replay shows what people saw.
 *
 * @throws RangeError, with a sentence for the person, where the regimen is not on offer, or where height, weight and order come to no
 * possible plan.
 */
export function findingsFor(command: Command, record: SessionRecord, missing: readonly Missing[]): Found {
  const overridden = missing.length > 0 ? { missing: missing.map((one) => one.text) } : {};
  return { ...overridden, ...worked(command, record) };
}

function worked(command: Command, record: SessionRecord): Found {
  switch (command.kind) {
    case 'order':
      regimenById(command.regimenId);
      return record.measured === null ? {} : { plan: planOf(command, record.measured) };
    case 'measure':
      return record.order === null ? {} : { plan: planOf(record.order, command) };
    case 'second-check':
      return compared(command, record);
    case 'read-back':
      return seen(command, record);
    default:
      return {};
  }
}

type Ordered = Pick<CommandOf<'order'>, 'regimenId' | 'lesions'>;
type Measured = Pick<CommandOf<'measure'>, 'heightCm' | 'weightKg' | 'formula'>;

function planOf(order: Ordered, measured: Measured): Plan {
  const { heightCm, weightKg, formula } = measured;
  return reckonPlan({ heightCm, weightKg, formula, regimen: regimenById(order.regimenId), lesions: order.lesions });
}

function compared(second: CommandOf<'second-check'>, record: SessionRecord): Found {
  const { order, measured, plan } = record;
  if (order === null || measured === null || plan === null) return {};
  const other = planOf(second, { ...second, formula: measured.formula });
  const pairs: [string, string | number, string | number][] = [
    ['height, cm', measured.heightCm, second.heightCm],
    ['weight, kg', measured.weightKg, second.weightKg],
    ['regimen', regimenWords(order), regimenWords(second)],
    ['eyes and lesions, um', lesionWords(order.lesions), lesionWords(second.lesions)],
    ['dose, mg', plan.infusate.doseMg, other.infusate.doseMg],
    ['drug, mL', plan.infusate.drugMlRounded, other.infusate.drugMlRounded],
  ];
  const differences = pairs
    .filter(([, one, two]) => one !== two)
    .map(([what, one, two]) => `${what}: ${one} and ${two}`);
  return { agrees: differences.length === 0, differences };
}

const regimenWords = ({ regimenId }: Ordered): string => `"${regimenById(regimenId).name}"`;
const lesionWords = (lesions: Ordered['lesions']): string =>
  lesions.map(({ eye, gldUm }) => `${eye} ${gldUm}`).join(', ');

function seen(shown: CommandOf<'read-back'>, record: SessionRecord): Found {
  const planned = record.plan?.light.find((light) => light.eye === shown.eye);
  if (planned === undefined) return {};
  const { spotUm, irradianceMwPerCm2, exposureS } = planned;
  const { lensFactor } = shown;
  const back = readBack({
    planned: { spotUm, irradianceMwPerCm2, exposureS, lensFactor, setSpotUm: setSpotUm(spotUm, lensFactor) },
    shown: {
      setSpotUm: shown.setSpotUm,
      lensFactor: shown.laserLensFactor,
      seconds: shown.exposureS,
      irradianceMwPerCm2: shown.irradianceMwPerCm2,
    },
  });
  return { agrees: back.agrees, says: back.says };
}
