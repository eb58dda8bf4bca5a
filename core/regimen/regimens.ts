import { z } from 'zod';
import { fluenceJPerCm2, fluencesAgree } from '../light/exposure.ts';
import { sourceSchema } from './source.ts';

export const DEFAULT_REGIMEN_ID = 'label';

/** All times in minutes count from the START of the infusion. */
export const regimenSchema = z
  .strictObject({
    id: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
    /** As long as a syringe label has room for. */
    name: z.string().min(1).max(60),
    indication: z.string().min(1),
    onLabel: z.boolean(),
    doseMgPerM2: z.number().positive(),
    infusionMin: z.number().positive(),
    totalMl: z.number().positive(),
    lightStartMin: z.number().positive(),
    /** Latest start of the light for a second eye; null where no limit is published. */
    secondEyeLimitMin: z.number().positive().nullable(),
    /** As prescribed, so within 1 % of irradiance times seconds. */
    fluenceJPerCm2: z.number().positive(),
    irradianceMwPerCm2: z.number().positive(),
    exposureS: z.number().positive(),
    sources: z.array(sourceSchema).min(1),
    notes: z.array(z.string().min(1)),
  })
  .refine((regimen) => regimen.lightStartMin >= regimen.infusionMin, {
    path: ['lightStartMin'],
    error: 'Light cannot start before the infusion has ended.',
  })
  .refine((regimen) => regimen.secondEyeLimitMin === null || regimen.secondEyeLimitMin > regimen.lightStartMin, {
    path: ['secondEyeLimitMin'],
    error: 'The limit for the second eye must lie after the light of the first.',
  })
  .refine(
    (regimen) => fluencesAgree(regimen.fluenceJPerCm2, fluenceJPerCm2(regimen.irradianceMwPerCm2, regimen.exposureS)),
    { path: ['fluenceJPerCm2'], error: 'Fluence must be irradiance times seconds, within 1 %.' },
  );

export type Regimen = z.infer<typeof regimenSchema>;

/**
 * The regimens on offer. Every one has a dose, an infusion time, a light start and a light dose that a source gives.
 *
 * Left out because no source was found for when the light starts: 30 % dose (1.8 mg/m2; Zhao et al, Retina
 * 2009;29:1155), one-third dose (2 mg/m2; BMC Ophthalmol 2020, doi 10.1186/s12886-020-01796-0), half dose with half
 * fluence (Liu et al, J Ocul Pharmacol Ther 2014;30:400), and bolus or high-fluence schemes for choroidal haemangioma
 * (van Dijk et al, Ophthalmol Ther 2020;9:329).
 */
export const REGIMENS: readonly Regimen[] = [
  {
    id: 'label',
    name: 'Label: full dose, full fluence',
    indication: 'Labelled indications of verteporfin',
    onLabel: true,
    doseMgPerM2: 6,
    infusionMin: 10,
    totalMl: 30,
    lightStartMin: 15,
    secondEyeLimitMin: 20,
    fluenceJPerCm2: 50,
    irradianceMwPerCm2: 600,
    exposureS: 83,
    sources: [
      { text: 'EU-SmPC: 6 mg/m2 in 30 mL over 10 min, light 15 min after the start of the infusion', sure: 'found' },
      { text: 'EU-SmPC: 50 J/cm2 at 600 mW/cm2 over 83 s, 689 nm', sure: 'found' },
      { text: 'EU-SmPC: second eye no later than 20 min from the start of the infusion', sure: 'found' },
      { text: 'US prescribing information: the light of the second eye starts no later than 20 min', sure: 'found' },
    ],
    notes: [
      'EU-SmPC: there are no clinical data on treating the second eye after the same infusion.',
      'US prescribing information: when never treated before, treat one eye and the other no sooner than 1 week later.',
    ],
  },
  {
    id: 'half-dose-15',
    name: 'Half dose, light at 15 min',
    indication: 'Chronic central serous chorioretinopathy',
    onLabel: false,
    doseMgPerM2: 3,
    infusionMin: 10,
    totalMl: 30,
    lightStartMin: 15,
    secondEyeLimitMin: 20,
    fluenceJPerCm2: 50,
    irradianceMwPerCm2: 600,
    exposureS: 83,
    sources: [
      { text: 'van Dijk et al, Ophthalmology 2018;125:1547: half dose', sure: 'found' },
      {
        text: 'van Dijk et al, Ophthalmology 2018;125:1547: infusion time, light start, fluence, irradiance, seconds',
        sure: 'memory',
      },
      { text: 'Second eye by 20 min: carried over from the label regimen', sure: 'local' },
      { text: 'Total volume 30 mL: carried over from the label regimen', sure: 'local' },
    ],
    notes: [],
  },
  {
    id: 'half-dose-10',
    name: 'Half dose, light at 10 min',
    indication: 'Acute central serous chorioretinopathy',
    onLabel: false,
    doseMgPerM2: 3,
    infusionMin: 8,
    totalMl: 30,
    lightStartMin: 10,
    secondEyeLimitMin: null,
    fluenceJPerCm2: 50,
    irradianceMwPerCm2: 600,
    exposureS: 83,
    sources: [
      {
        text: 'Chan et al, Ophthalmology 2008;115:1756-65: half dose over 8 min, light 10 min after its start',
        sure: 'found',
      },
      { text: 'Chan et al, Ophthalmology 2008;115:1756-65: fluence, irradiance, seconds', sure: 'memory' },
      { text: 'Total volume 30 mL: carried over from the label regimen', sure: 'local' },
    ],
    notes: [
      'No source was found for the total volume of the 8 min infusion.',
      'No limit is published for a second eye under this timing.',
    ],
  },
  {
    id: 'half-fluence',
    name: 'Half fluence',
    indication: 'Chronic central serous chorioretinopathy',
    onLabel: false,
    doseMgPerM2: 6,
    infusionMin: 10,
    totalMl: 30,
    lightStartMin: 15,
    secondEyeLimitMin: 20,
    fluenceJPerCm2: 25,
    irradianceMwPerCm2: 300,
    exposureS: 83,
    sources: [
      { text: 'VIM trial, ARVO abstracts: 25 J/cm2 at 300 mW/cm2 over 83 s', sure: 'found' },
      {
        text: 'Reibaldi et al, Am J Ophthalmol 2010;149:307-315: the scheme in chronic disease, dose and timing',
        sure: 'memory',
      },
      { text: 'Second eye by 20 min: carried over from the label regimen', sure: 'local' },
      { text: 'Total volume 30 mL: carried over from the label regimen', sure: 'local' },
    ],
    notes: [],
  },
  {
    id: 'half-time',
    name: 'Half time',
    indication: 'Central serous chorioretinopathy',
    onLabel: false,
    doseMgPerM2: 6,
    infusionMin: 10,
    totalMl: 30,
    lightStartMin: 15,
    secondEyeLimitMin: 20,
    fluenceJPerCm2: 25,
    irradianceMwPerCm2: 600,
    exposureS: 42,
    sources: [
      { text: 'Half dose against half time, Am J Ophthalmol 2016, PMID 27084002: the scheme', sure: 'found' },
      { text: 'Halving time against dose, Retina 2015, PMID 26035398: the scheme', sure: 'found' },
      { text: 'The same papers: dose, infusion time, light start, irradiance, seconds', sure: 'memory' },
      { text: 'Second eye by 20 min: carried over from the label regimen', sure: 'local' },
      { text: 'Total volume 30 mL: carried over from the label regimen', sure: 'local' },
    ],
    notes: [],
  },
];

/** The regimen of that id. Throws RangeError that lists the ids on offer. */
export const regimenById = (id: string): Regimen => regimenAmong(REGIMENS, id);

/** The same, among the regimens that a site offers. */
export function regimenAmong(regimens: readonly Regimen[], id: string): Regimen {
  const regimen = regimens.find((candidate) => candidate.id === id);
  if (regimen === undefined) {
    const offered = regimens.map((candidate) => candidate.id).join(', ');
    throw new RangeError(`No regimen is called "${id}"; choose one of: ${offered}.`);
  }
  return regimen;
}
