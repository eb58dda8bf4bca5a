import { DOSE_CAUTION } from '../../core/dosing/plan.ts';
import { FURTHER_KEYS, KEYS } from '../../core/keys/key-table.ts';
import { NOT_MEASURED_WORDS, tooSmallWords } from '../../core/legibility/digit-size.ts';
import type { RosterPerson } from '../../core/people/roster.ts';
import { LESSONS } from '../../core/practice/lessons.ts';
import { MADE_UP_IDS, madeUpById } from '../../core/practice/made-up-troubles.ts';
import { nextStepOf } from '../../core/practice/next-step.ts';
import { missingFor } from '../../core/procedure/openings.ts';
import { FULL_COURSE, STATE_WORDS } from '../../core/procedure/states.ts';
import { viewOf } from '../../core/procedure/view.ts';
import type { WhoMay } from '../../core/protocol/people.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { REGIMENS } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { lowerFirst } from '../../renderer/console/forms/entries.ts';
import type { Form, FormContext } from '../../renderer/console/forms/form.ts';
import { FORMS } from '../../renderer/console/forms/forms.ts';
import { questionField } from '../../renderer/console/forms/questions.ts';
import { type Field, unitName, type Values } from '../../renderer/parts/field.ts';
import { describeForm, givePinForm, joinForm, leaveForm, ownPinForm } from '../../renderer/people/people-forms.ts';
import { EVERY_COMMAND, handsFor } from '../procedure/walk.ts';
import { momentAt } from '../session-steps.ts';
import { type Lived, livedSessions, UNUSUAL } from './lived-sessions.ts';
import { settingWords } from './setting-words.ts';

/** English texts that console, board and rooms are given to show, each as it stands in one place of a screen. */
export function shownWords(): Set<string> {
  const texts = new Set<string>();
  const add = (...found: readonly (string | null | undefined)[]): void => {
    for (const text of found) if (text !== null && text !== undefined && text.trim() !== '') texts.add(text);
  };
  const lived = livedSessions();
  const views = lived.flatMap(({ session, atMs }) => atMs.map((at) => viewOf(session.context, 7, momentAt(at))));
  for (const view of views) {
    addView(view, add);
    addNextStep(view, add);
  }
  for (const one of lived) addRefusals(one, add);
  const contexts = contextsOf(views);
  for (const [id, form] of Object.entries(FORMS)) {
    // It goes on with something: there is nothing to open it on else.
    for (const context of id === 'go-on' ? contexts.filter(({ view }) => view?.wayOn != null) : contexts) {
      addForm(form, context, add);
    }
  }
  addTables(add);
  addPeople(add);
  add(...settingWords());
  for (const { words, source } of Object.values(LESSONS)) add(...words, source);
  return texts;
}

type Add = (...found: readonly (string | null | undefined)[]) => void;

/** What of a view is read, without what people typed. */
function addView(view: SessionView, add: Add): void {
  const { board, tasks, wayOn, troubleCards, cues, hushable, cautions, differences, eyes, regimen } = view;
  const counts = [board.main, board.second].flatMap((count) => (count === null ? [] : [count.words, count.pastWords]));
  add(view.stateWords, view.guidance, board.title, board.next, ...counts, ...cautions);
  for (const { words, detail, trouble, command } of tasks) add(words, command === 'reactions' ? '' : detail, trouble);
  add(wayOn?.words, ...(wayOn?.missing ?? []).map(({ text }) => text));
  for (const { missing } of Object.values(view.commands)) add(...missing.map(({ text }) => text));
  for (const { words, steps, afterwards, source } of troubleCards) add(words, ...steps, upperFirst(afterwards), source);
  add(...[...cues, ...hushable].map(({ words }) => words), ...view.timers.map(({ name }) => name));
  for (const { what, first, second } of differences) add(what, first, second);
  const [first, second] = eyes;
  if (first !== undefined) add(second === undefined ? `${first} eye` : `${first} eye, then ${second}`);
  if (regimen !== null) add(lowerFirst(regimen.name));
  for (const { eye } of view.plan?.light ?? []) add(`${eye} eye`);
}

/** What guided practice says beside a session. */
function addNextStep(view: SessionView, add: Add): void {
  for (const trouble of [null, ...MADE_UP_IDS]) {
    const next = nextStepOf(view, trouble && madeUpById(trouble));
    if (next !== null) add(next.key === null ? `wait: ${next.words}` : next.words, next.why);
  }
}

const upperFirst = (sentence: string): string => sentence.charAt(0).toUpperCase() + sentence.slice(1);

function addRefusals({ session, atMs }: Lived, add: Add): void {
  for (const at of atMs) {
    for (const command of [...EVERY_COMMAND, ...UNUSUAL]) {
      const ask = { at: momentAt(at), by: handsFor(command), command };
      add(...missingFor(command.kind, session.context, ask).map(({ text }) => text));
    }
  }
}

const WHO_MAY = [
  { kind: 'as typed' },
  { kind: 'first run' },
  { kind: 'roster', people: [] },
] as const satisfies readonly WhoMay[];

const USUAL: FormContext = {
  ...{ view: null, settings: DEFAULT_SETTINGS, regimens: REGIMENS, whoMay: WHO_MAY[0] },
  ...{ wallMs: Date.UTC(2031, 2, 3, 9), offsetMin: 60 },
  ...{ eye: 'right', item: 'consent', overriding: false, going: null },
};

/** Some of the places that a form may be opened in: each state once, then what else makes a difference, one at a time. */
function contextsOf(views: readonly SessionView[]): FormContext[] {
  const perState = [...new Map(views.map((view) => [`${view.state} ${view.troubles.length > 0}`, view])).values()];
  return [
    USUAL,
    ...perState.map((view) => ({ ...USUAL, view })),
    ...perState.map((view) => ({ ...USUAL, view, overriding: true })),
    ...WHO_MAY.map((whoMay) => ({ ...USUAL, whoMay })),
    { ...USUAL, eye: 'left' },
    { ...USUAL, settings: { ...DEFAULT_SETTINGS, profile: 'eu' } },
    { ...USUAL, settings: { ...DEFAULT_SETTINGS, latePressS: 0 } },
  ];
}

/** Made up. */
const PERSON: RosterPerson = {
  ...{ personId: 'person-1', name: 'Mo Example', initials: 'MO', role: 'nurse' },
  ...{ administers: true, active: true },
};

function addPeople(add: Add): void {
  const left = { ...PERSON, active: false };
  const forms = [joinForm, describeForm(PERSON), givePinForm(PERSON), ownPinForm, leaveForm(PERSON), leaveForm(left)];
  for (const form of forms) addForm(form, USUAL, add);
}

/** Text that no figure is; figures that are too large; figures that are possible; nothing. */
const TYPED = ['', 'x', '99999999', '5', '71.5', '2600', '1.5', '12:30', '2031-02-30'];

function addForm(form: Form, context: FormContext, add: Add): void {
  add(form.title(context), form.lead?.(context), form.enter);
  for (const values of fillings(form, context)) {
    for (const field of form.fields(values, context)) addField(field, add);
    const read = form.read(values, context);
    if (!read.ok) add(...Object.values(read.errors));
    else for (const question of read.questions ?? []) addField(questionField(question), add);
    for (const sum of form.sums?.(values, context) ?? []) add(...sum);
    const beside = form.beside?.(values, context);
    add(beside?.heading, ...(beside?.lines ?? []).map(({ words }) => words));
  }
}

/** A form filled in with every choice in turn, and with texts of every sort in its other fields. */
function* fillings(form: Form, context: FormContext): Generator<Values> {
  let values = form.start(context);
  yield* typedInto(form, values, context);
  const settled = new Set<string>();
  for (let field = nextChoice(form, values, context, settled); field !== undefined; ) {
    const before = form.fields(values, context).length;
    const tried = choicesOf(field).map((value): Values => ({ ...values, [field?.name ?? '']: value }));
    for (const one of tried) yield* typedInto(form, one, context);
    values = tried.find((one) => form.fields(one, context).length > before) ?? tried[0] ?? values;
    settled.add(field.name);
    field = nextChoice(form, values, context, settled);
  }
}

const nextChoice = (form: Form, values: Values, context: FormContext, settled: ReadonlySet<string>) =>
  form.fields(values, context).find((field) => choicesOf(field).length > 0 && !settled.has(field.name));

const choicesOf = (field: Field): readonly string[] =>
  field.kind === 'choice' ? field.options.map(({ value }) => value) : field.kind === 'answer' ? ['yes', 'no'] : [];

function* typedInto(form: Form, values: Values, context: FormContext): Generator<Values> {
  const fields = form.fields(values, context);
  for (const typed of TYPED) {
    const filled = fields.filter(({ kind }) => kind === 'figure' || kind === 'text').map(({ name }) => [name, typed]);
    yield { ...values, ...Object.fromEntries(filled) };
    for (const field of fields) {
      if (field.kind !== 'figure' || field.units === undefined) continue;
      for (const unit of field.units) yield { ...values, ...Object.fromEntries(filled), [unitName(field.name)]: unit };
    }
  }
  yield { ...values, heightCm: '168', weightKg: '32' };
  yield { ...values, heightCm: '66', weightKg: '157' };
  yield { ...values, heightCm: '71', weightKg: '168' };
  yield { ...values, heightCm: '120', weightKg: '240' };
}

function addField(field: Field, add: Add): void {
  add(field.words, field.hint);
  if (field.kind === 'figure') {
    add(field.unit, ...(field.units === undefined ? [] : [...field.units, `unit of ${field.words}`]));
  } else if (field.kind === 'choice') for (const { words, detail } of field.options) add(words, detail);
  else if (field.kind === 'answer') add(field.advice, 'yes', 'no');
}

function addTables(add: Add): void {
  for (const { words, more, cap } of KEYS) add(words, more, cap, `${words}: not open here`);
  for (const { words, cap } of FURTHER_KEYS) add(words, cap);
  add(...FULL_COURSE.map((state) => STATE_WORDS[state]), DOSE_CAUTION, NOT_MEASURED_WORDS);
  add(tooSmallWords({ heightPx: 10, measured: { heightMm: 10, arcMin: 10 } }, 3.5));
}
