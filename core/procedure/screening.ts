import { z } from 'zod';
import type { Settings } from '../settings/settings.ts';

export type Profile = Settings['profile'];

/**
 * What a `yes` does. `stop`: a contraindication of that product text. `decide`: a caution of it. Both need a
 * physician's named decision before anything goes on; the words differ. `mind`: kept in view, closes nothing.
 */
export type Effect = 'stop' | 'decide' | 'mind';

export interface ScreeningQuestion {
  readonly id: string;
  readonly words: string;
  /** By the product text the site follows. */
  readonly effect: Readonly<Record<Profile, Effect>>;
  readonly source: string;
  /** What to do where the answer is yes, as the sources have it. */
  readonly advice: string;
}

const both = (effect: Effect) => ({ us: effect, eu: effect }) as const;

/** Questions asked before drug is drawn up. The current product text and local policy decide; this list reminds. */
export const SCREENING = [
  {
    id: 'hypersensitivity',
    words: 'known hypersensitivity to verteporfin or a component',
    effect: both('stop'),
    source: 'contraindication, EU-SmPC and US prescribing information',
    advice: 'contraindicated',
  },
  {
    id: 'porphyria',
    words: 'porphyria',
    effect: both('stop'),
    source: 'contraindication, EU-SmPC and US prescribing information',
    advice: 'contraindicated',
  },
  {
    id: 'hepatic-severe',
    words: 'severe hepatic impairment',
    effect: { us: 'decide', eu: 'stop' },
    source: 'contraindication in the EU-SmPC; caution in the US prescribing information',
    advice: 'excreted in bile: exposure may be higher',
  },
  {
    id: 'hepatic-moderate',
    words: 'moderate hepatic impairment, or biliary obstruction',
    effect: both('decide'),
    source: 'caution, EU-SmPC and US prescribing information',
    advice: 'excreted in bile: exposure may be higher',
  },
  {
    id: 'pregnant',
    words: 'pregnant, or may be',
    effect: both('decide'),
    source: 'value from memory, verify: only if the benefit justifies the risk',
    advice: 'only if the benefit justifies the risk',
  },
  {
    id: 'breast-feeding',
    words: 'breast-feeding',
    effect: both('decide'),
    source: 'US labelling change of June 2012: found in milk; EU-SmPC, value from memory, verify: none for 48 h',
    advice: 'found in milk: agree how long to interrupt',
  },
  {
    id: 'recent-vision-loss',
    words: 'severe vision loss (4 lines or more) within a week of an earlier treatment',
    effect: both('decide'),
    source: 'EU-SmPC and US prescribing information: no retreatment until recovered and weighed',
    advice: 'no retreatment until vision is back and benefit and risk are weighed',
  },
  {
    id: 'too-soon',
    words: 'treated less than 3 months ago',
    effect: both('decide'),
    source: 'EU-SmPC: up to 4 times a year; US prescribing information: re-evaluate at 3 months',
    advice: 'reviewed every 3 months',
  },
  {
    id: 'anaesthesia',
    words: 'treatment planned under general anaesthesia or deep sedation',
    effect: both('decide'),
    source: 'value from memory, verify: no data in anaesthetised patients',
    advice: 'no data in anaesthetised patients',
  },
  {
    id: 'photosensitisers',
    words: 'other photosensitising medicines',
    effect: both('mind'),
    source:
      'US prescribing information: others may add; list (tetracyclines, sulfonamides, phenothiazines, thiazides, griseofulvin) from memory, verify',
    advice: 'the reaction to light may be stronger',
  },
  {
    id: 'uptake',
    words: 'calcium-channel blocker, polymyxin B, or radiation therapy',
    effect: both('mind'),
    source: 'US prescribing information: may enhance uptake',
    advice: 'uptake may be enhanced',
  },
  {
    id: 'surgery-soon',
    words: 'surgery, dental work or long bright medical light planned within the light-precaution time',
    effect: both('mind'),
    source: 'US prescribing information: shield tissue from intense light; pulse oximeters not for long',
    advice: 'tell the team; shield tissue from intense light; no long pulse oximetry',
  },
] as const satisfies readonly ScreeningQuestion[];

export type ScreeningId = (typeof SCREENING)[number]['id'];

const answer = z.enum(['no', 'yes']);

export const screeningAnswersSchema = z.strictObject(
  Object.fromEntries(SCREENING.map((question) => [question.id, answer])) as Record<ScreeningId, typeof answer>,
);

export type ScreeningAnswers = z.infer<typeof screeningAnswersSchema>;

/** The questions answered `yes` that need a physician's named decision before anything goes on. */
export function needingDecision(answers: ScreeningAnswers, profile: Profile): ScreeningQuestion[] {
  return saidYes(answers).filter((question) => question.effect[profile] !== 'mind');
}

/** The questions answered `yes`, to be kept in view. */
export function saidYes(answers: ScreeningAnswers): ScreeningQuestion[] {
  return SCREENING.filter((question) => answers[question.id] === 'yes');
}
