import { blind, WITHHELD } from './blind.ts';
import { CHECKS, type Check, type CheckId } from './checks.ts';
import type { CommandKind, Eye } from './commands.ts';
import { apart, eyeInTurn } from './conditions.ts';
import { checkKey, type Done, doneOf, type Kept, type Ordered, type SessionRecord, stateOf } from './record.ts';
import { saidYes } from './screening.ts';
import type { StateName } from './states.ts';

/** Something to do in a state before the session goes on. */
export interface Task {
  readonly id: string;
  readonly command: CommandKind;
  readonly item: CheckId | null;
  readonly eye: Eye | null;
  readonly words: string;
  readonly source: string | null;
  readonly done: Done | null;
  readonly detail: string;
  readonly trouble: string | null;
}

/** What is entered with data, in the order in which it is asked for; the checks of the state stand among it. */
type Step =
  | CheckId
  | 'identify'
  | 'order'
  | 'screen'
  | 'measure'
  | 'second-check'
  | 'drug'
  | 'line'
  | 'read-back'
  | 'reactions'
  | 'review';

const STEPS: Partial<Record<StateName, readonly Step[]>> = {
  planning: ['identify', 'consent', 'order', 'aggressive-first', 'screen', 'measure', 'second-check'],
  prepared: ['drug', 'inspected', 'd5w-only', 'sound-heard', 'time-out'],
  linePrimed: ['line', 'filter', 'blood-return', 'patency'],
  waitingForLight: ['read-back', 'drops', 'lens-on', 'eye-time-out'],
  lightDelivery: ['read-back', 'drops', 'lens-on', 'eye-time-out'],
  afterCare: ['bracelet', 'sheet-given', 'reactions', 'review'],
  stoppedEarly: ['bracelet', 'sheet-given', 'reactions', 'review'],
};

/** The tasks of the present state, done and not done. */
export function tasksOf(record: SessionRecord, atMs: number): Task[] {
  const state = stateOf(record);
  if (state === 'stoppedEarly' && record.course === null) return [];
  const eye = state === 'waitingForLight' || state === 'lightDelivery' ? eyeInTurn(record, atMs) : null;
  return [...sleepTasks(record), ...stateTasks(record, state, eye)];
}

/** After a sleep of the computer, before anything else: somebody looks at the pump. */
function sleepTasks(record: SessionRecord): Task[] {
  if (stateOf(record) === 'discharged') return [];
  return record.sleeps
    .filter((sleep) => sleep.looked === null)
    .slice(0, 1)
    .map(() => ({
      id: 'looked',
      command: 'looked',
      item: null,
      eye: null,
      words: 'this computer slept: look at the pump and say what it did',
      source: 'local practice',
      done: null,
      detail: '',
      trouble: null,
    }));
}

function stateTasks(record: SessionRecord, state: StateName, eye: Eye | null): Task[] {
  return (STEPS[state] ?? [])
    .filter((step) => step !== 'aggressive-first' || (record.order?.lesions.length ?? 0) > 1)
    .map((step) => {
      const check = CHECKS.find((one) => one.id === step);
      return check === undefined ? dataTask(step as DataStep, record, eye) : checkTask(check, record, eye);
    });
}

function checkTask(check: Check & { id: CheckId }, record: SessionRecord, eyeNow: Eye | null): Task {
  const eye = check.perEye ? eyeNow : null;
  return {
    id: checkKey(check.id, eye ?? undefined),
    command: 'check',
    item: check.id,
    eye,
    words: eye === null ? check.words : `${eye} eye: ${check.words}`,
    source: check.source,
    done: record.checks[checkKey(check.id, eye ?? undefined)] ?? null,
    detail: '',
    trouble: null,
  };
}

type DataStep = Exclude<Step, CheckId>;
type Told = Pick<Task, 'words' | 'done' | 'detail'> & { trouble?: string | null };

function dataTask(step: DataStep, record: SessionRecord, eyeNow: Eye | null): Task {
  const eye = step === 'read-back' ? eyeNow : null;
  const { words, done, detail, trouble = null } = TELL[step](record, eye);
  const who = done === null ? null : doneOf(done);
  return { id: step, command: step, item: null, eye, words, source: null, done: who, detail, trouble };
}

const orderWords = ({ regimen, lesions, orderedBy }: Ordered): string =>
  `${regimen.name} · ${lesions.map(({ eye, gldUm }) => `${eye} ${gldUm} µm`).join(', then ')} · ${orderedBy}`;

const lightFigure = ({ powerMw, irradianceMwPerCm2 }: Kept<'read-back'>): string =>
  powerMw === undefined ? `${irradianceMwPerCm2} mW/cm²` : `${powerMw} mW`;

const TELL: Record<DataStep, (record: SessionRecord, eye: Eye | null) => Told> = {
  identify: ({ patient }) => ({
    words: 'patient, by two identifiers',
    done: patient,
    detail: patient === null ? '' : `${patient.patientCode}, born ${patient.birthDate}`,
  }),
  order: (record) => ({
    words: 'regimen, eye and lesion, as ordered',
    done: record.order,
    detail: record.order === null ? '' : blind(record) ? WITHHELD : orderWords(record.order),
  }),
  screen: ({ screening }) => {
    const yes = screening === null ? [] : saidYes(screening.answers);
    return {
      words: 'screening questions',
      done: screening,
      detail:
        screening === null
          ? ''
          : yes.length === 0
            ? 'all answered no'
            : `yes: ${yes.map((one) => one.words).join('; ')}`,
    };
  },
  measure: (record) => ({
    words: 'height and weight',
    done: record.measured,
    detail:
      record.measured === null
        ? ''
        : blind(record)
          ? WITHHELD
          : `${record.measured.heightCm} cm, ${record.measured.weightKg} kg`,
  }),
  'second-check': ({ secondCheck }) => ({
    words: 'second computation, by other hands',
    done: secondCheck,
    detail: secondCheck?.agrees ? 'agrees' : '',
    trouble: secondCheck === null || secondCheck.agrees ? null : `differs: ${apart(secondCheck.differences)}`,
  }),
  drug: ({ drug }) => ({
    words: 'lot and expiry of the vial',
    done: drug,
    detail: drug === null ? '' : `lot ${drug.lot}, expires ${drug.expires}`,
  }),
  line: ({ line }) => ({
    words: 'what filter and line hold',
    done: line,
    detail:
      line === null
        ? ''
        : `${line.lineMl} mL, primed with ${line.primedWith === 'drug' ? 'the infusate' : 'dextrose 5 %'}`,
  }),
  'read-back': ({ readBacks }, eye) => {
    const seen = eye === null ? undefined : readBacks[eye];
    return {
      words: `${eye ?? ''} eye: laser settings read back`.trim(),
      done: seen ?? null,
      detail:
        seen === undefined
          ? ''
          : `spot ${seen.setSpotUm} µm, lens × ${seen.lensFactor} (laser × ${seen.laserLensFactor}), ${lightFigure(seen)}, ${seen.exposureS} s`,
      trouble: seen === undefined || seen.agrees ? null : seen.says,
    };
  },
  reactions: ({ reactions }) => {
    const last = reactions.at(-1);
    return {
      words: 'reactions, or that there were none',
      done: last ?? null,
      detail: reactions.map((one) => one.words).join('; '),
    };
  },
  review: ({ review }) => ({ words: 'review date', done: review, detail: review?.reviewDate ?? '' }),
};
