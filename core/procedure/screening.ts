import { z } from 'zod';

/**
 * What a `yes` does. `stop`: the step stays closed unless a physician's named decision goes with it. `decide`: the
 * same, but the source calls it a caution. `mind`: shown, closes nothing.
 */
type Effect = 'stop' | 'decide' | 'mind';

export interface ScreeningQuestion {
  readonly id: string;
  readonly words: string;
  readonly effect: Effect;
  readonly source: string;
}

/** Questions asked before drug is drawn up. The current product text and local policy decide; this list reminds. */
export const SCREENING = [
  {
    id: 'hypersensitivity',
    words: 'known hypersensitivity to verteporfin or a component',
    effect: 'stop',
    source: 'contraindication, EU-SmPC and US prescribing information',
  },
  {
    id: 'porphyria',
    words: 'porphyria',
    effect: 'stop',
    source: 'contraindication, EU-SmPC and US prescribing information',
  },
  {
    id: 'hepatic',
    words: 'moderate or severe hepatic impairment, or biliary obstruction',
    effect: 'decide',
    source: 'severe: contraindication in the EU-SmPC, caution in the US text; moderate: caution in both',
  },
  {
    id: 'pregnant-or-nursing',
    words: 'pregnant, may be pregnant, or breast-feeding',
    effect: 'decide',
    source: 'value from memory, verify: only if benefit justifies risk; no breast-feeding for 48 h (EU)',
  },
  {
    id: 'recent-vision-loss',
    words: 'severe vision loss (4 lines or more) within a week of an earlier treatment',
    effect: 'decide',
    source: 'EU-SmPC and US prescribing information: no retreatment until recovered and weighed',
  },
  {
    id: 'anaesthesia',
    words: 'treatment planned under general anaesthesia or deep sedation',
    effect: 'decide',
    source: 'value from memory, verify: no data in anaesthetised patients',
  },
  {
    id: 'photosensitisers',
    words: 'other photosensitising medicines',
    effect: 'mind',
    source: 'US prescribing information: other photosensitisers may add',
  },
  {
    id: 'surgery-soon',
    words: 'surgery or long bright medical light planned within the light-precaution days',
    effect: 'mind',
    source: 'US prescribing information: shield tissue from intense light; pulse oximeters not for long',
  },
] as const satisfies readonly ScreeningQuestion[];

export type ScreeningId = (typeof SCREENING)[number]['id'];

const answer = z.enum(['no', 'yes']);

export const screeningAnswersSchema = z.strictObject(
  Object.fromEntries(SCREENING.map((question) => [question.id, answer])) as Record<ScreeningId, typeof answer>,
);

export type ScreeningAnswers = z.infer<typeof screeningAnswersSchema>;

/** The questions answered `yes` that need a physician's named decision before anything goes on. */
export function needingDecision(answers: ScreeningAnswers): ScreeningQuestion[] {
  return SCREENING.filter((question) => question.effect !== 'mind' && answers[question.id] === 'yes');
}

/** The questions answered `yes`, to be kept in view. */
export function saidYes(answers: ScreeningAnswers): ScreeningQuestion[] {
  return SCREENING.filter((question) => answers[question.id] === 'yes');
}
