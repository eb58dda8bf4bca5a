import { energyJ, exposureS, powerMw } from '../light/exposure.ts';
import { lesionUmFromImage, setSpotUm, spotAreaCm2, spotUm } from '../light/spot.ts';
import { DEFAULT_REGIMEN_ID, type Regimen, regimenById } from '../regimen/regimens.ts';
import { bodySurfaceAreaM2, bodySurfaceAreaSpread } from './body-surface-area.ts';
import { INFUSATE_ML, planInfusate } from './infusate.ts';
import { lineEffect } from './line.ts';
import { cameraCautions, DOSE_CAUTION, formulaCautions, schemeCautions, spotCautions, vialCautions } from './plan.ts';
import { type ReckonRequest, reckonRequestSchema } from './reckon-request.ts';

/** A computed plan. Full precision; rounding is for whoever shows it. Light is null where no lesion was named. */
export interface Reckoning {
  readonly bodySurfaceAreaM2: number;
  readonly doseMg: number;
  readonly drugMl: number;
  readonly drugMlRounded: number;
  readonly doseAfterRoundingMg: number;
  readonly diluentMl: number;
  readonly vials: number;
  readonly rateMlPerMin: number;
  readonly rateMlPerH: number;
  readonly lineMl: number;
  /** With the line primed from the syringe. */
  readonly pumpEndS: number;
  readonly doseAtPumpEndMg: number;
  readonly lightStartS: number;
  readonly exposureS: number;
  readonly fluenceJPerCm2: number;
  readonly irradianceMwPerCm2: number;
  readonly spotUm: number | null;
  readonly setSpotUm: number | null;
  readonly areaCm2: number | null;
  readonly powerMw: number | null;
  readonly energyJ: number | null;
  readonly cautions: readonly string[];
}

/** A request that cannot be computed: which field, what it was, and what is allowed. */
export class BadRequest extends Error {
  readonly field: string;
  readonly value: unknown;
  readonly allowed: string;

  constructor(field: string, given: unknown, allowed: string) {
    // JSON has no word for what lies beyond its numbers: 1e999 would be shown as null, as if it were missing.
    const value = typeof given === 'number' && !Number.isFinite(given) ? String(given) : given;
    super(`${field}: ${JSON.stringify(value) ?? 'nothing'} is not possible; allowed is ${allowed}`);
    this.field = field;
    this.value = value;
    this.allowed = allowed;
  }
}

/** Computes a plan from one request. @throws BadRequest */
export function reckon(input: unknown): Reckoning {
  const request = readRequest(input);
  const scheme = schemeOf(request);
  const areaM2 = bodySurfaceAreaM2(request.formula, request.heightCm, request.weightKg);
  const { doseMgPerM2, infusionMin } = scheme;
  const { graduationMl, lineMl } = request;
  const order = {
    bodySurfaceAreaM2: areaM2,
    doseMgPerM2,
    infusionMin,
    totalMl: INFUSATE_ML,
    graduationMl,
  };
  const infusate = orBadRequest('doseMgPerM2', doseMgPerM2, () => planInfusate(order));
  const { pumpEndS, doseAtPumpEndMg } = lineEffect({ infusate, lineMl, primedWith: 'drug' });
  const light = lightOf(request, scheme);
  return {
    bodySurfaceAreaM2: areaM2,
    doseMg: infusate.doseMg,
    drugMl: infusate.drugMl,
    drugMlRounded: infusate.drugMlRounded,
    doseAfterRoundingMg: infusate.doseAfterRoundingMg,
    diluentMl: infusate.diluentMl,
    vials: infusate.vials,
    rateMlPerMin: infusate.rateMlPerMin,
    rateMlPerH: infusate.rateMlPerH,
    lineMl,
    pumpEndS,
    doseAtPumpEndMg,
    lightStartS: scheme.lightStartMin * 60,
    exposureS: scheme.exposureS,
    fluenceJPerCm2: scheme.fluenceJPerCm2,
    irradianceMwPerCm2: scheme.irradianceMwPerCm2,
    ...light.figures,
    cautions: [
      DOSE_CAUTION,
      ...schemeCautions(scheme),
      ...vialCautions(infusate, graduationMl),
      ...formulaCautions(bodySurfaceAreaSpread(request.heightCm, request.weightKg, request.formula), doseMgPerM2),
      ...light.cautions,
    ],
  };
}

function readRequest(input: unknown): ReckonRequest {
  const request = reckonRequestSchema.safeParse(input);
  if (request.success) return request.data;
  const issue = request.error.issues[0];
  if (issue?.code === 'unrecognized_keys') {
    const field = issue.keys[0] ?? '';
    throw new BadRequest(
      field,
      valueAt(input, [field]),
      `no such field; there are: ${Object.keys(reckonRequestSchema.shape).join(', ')}`,
    );
  }
  const path = issue?.path ?? [];
  throw new BadRequest(
    path.map(String).join('.') || 'request',
    valueAt(input, path),
    issue?.message ?? 'a plan request',
  );
}

function valueAt(input: unknown, [key]: readonly PropertyKey[]): unknown {
  return key === undefined ? input : (Reflect.get(Object(input), key) ?? null);
}

type Scheme = Pick<
  Regimen,
  | 'name'
  | 'onLabel'
  | 'doseMgPerM2'
  | 'infusionMin'
  | 'lightStartMin'
  | 'fluenceJPerCm2'
  | 'irradianceMwPerCm2'
  | 'exposureS'
>;

function schemeOf(request: ReckonRequest): Scheme {
  const { doseMgPerM2, infusionMin, lightStartMin, fluenceJPerCm2, irradianceMwPerCm2 } = request;
  if (
    doseMgPerM2 === undefined ||
    infusionMin === undefined ||
    lightStartMin === undefined ||
    fluenceJPerCm2 === undefined ||
    irradianceMwPerCm2 === undefined
  ) {
    return regimenById(request.regimen ?? DEFAULT_REGIMEN_ID);
  }
  const seconds = exposureS(fluenceJPerCm2, irradianceMwPerCm2);
  return {
    ...request,
    name: 'Scheme of the request',
    onLabel: false,
    doseMgPerM2,
    infusionMin,
    lightStartMin,
    fluenceJPerCm2,
    irradianceMwPerCm2,
    exposureS: seconds,
  };
}

type LightFigures = Pick<Reckoning, 'spotUm' | 'setSpotUm' | 'areaCm2' | 'powerMw' | 'energyJ'>;

function lightOf(request: ReckonRequest, scheme: Scheme): { figures: LightFigures; cautions: string[] } {
  const { imageMm, cameraMagnification, lensFactor } = request;
  const onImage = imageMm !== undefined && cameraMagnification !== undefined;
  const gldUm = onImage ? lesionUmFromImage(imageMm, cameraMagnification) : request.lesionUm;
  if (gldUm === undefined) {
    return { figures: { spotUm: null, setSpotUm: null, areaCm2: null, powerMw: null, energyJ: null }, cautions: [] };
  }
  const field = onImage ? 'imageMm' : 'lesionUm';
  const retinalSpotUm = orBadRequest(field, request[field], () => spotUm(gldUm));
  const areaCm2 = spotAreaCm2(retinalSpotUm);
  const power = powerMw(scheme.irradianceMwPerCm2, areaCm2);
  return {
    figures: {
      spotUm: retinalSpotUm,
      setSpotUm: lensFactor === undefined ? null : setSpotUm(retinalSpotUm, lensFactor),
      areaCm2,
      powerMw: power,
      energyJ: energyJ(power, scheme.exposureS),
    },
    cautions: [
      ...spotCautions('The spot', retinalSpotUm),
      ...cameraCautions(onImage ? cameraMagnification : undefined),
    ],
  };
}

/** What the arithmetic refuses is a fault of this field. @throws BadRequest */
function orBadRequest<T>(field: string, value: unknown, compute: () => T): T {
  try {
    return compute();
  } catch (error) {
    if (error instanceof RangeError) throw new BadRequest(field, value, error.message);
    throw error;
  }
}
