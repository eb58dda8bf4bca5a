import { type RefObject, useLayoutEffect, useRef, useState } from 'react';
import { type Errors, type Field, unitName, type Values } from '../parts/field.ts';
import { useOneAtATime } from '../parts/use-one-at-a-time.ts';
import { focusedField, focusOn } from './field-focus.ts';
import type { Asked, Form, FormContext } from './forms/form.ts';
import { isAnswered, isMending, isQuestion, type Question, questionField, withoutAnswers } from './forms/questions.ts';

interface FormUse {
  readonly form: Form;
  /** As things stand now. */
  readonly context: () => FormContext;
  readonly place: RefObject<HTMLElement | null>;
  /** Carries out what was asked. Gives back why not, in sentences. */
  readonly onAsked: (asked: Asked) => Promise<readonly string[]>;
  /** Something was typed. */
  readonly onTouch: () => void;
  /** Something is asked about what was typed. */
  readonly onAsking: () => void;
}

/** What is typed into a form, what is wrong with it, what is asked about it, and what came of it. */
export function useForm({ form, context, place, onAsked, onTouch, onAsking }: FormUse) {
  const [opened] = useState(context);
  const [values, setValues] = useState<Values>(() => form.start(opened));
  const [errors, setErrors] = useState<Errors>({});
  const [questions, setQuestions] = useState<readonly Question[]>([]);
  const [refusal, setRefusal] = useState<readonly string[]>([]);
  const { busy, run } = useOneAtATime();
  const nextFocus = useRef<string | null>(null);
  const fields = form.fields(values, opened);
  const asked: readonly Field[] = questions.map(questionField);

  useLayoutEffect(() => {
    if (nextFocus.current !== null) focusOn(place.current, nextFocus.current);
    nextFocus.current = null;
  });

  /** `byNumber`: chosen by the key of its number, which for some forms is all that is needed. */
  function change(name: string, value: string, also: Values, byNumber: boolean): void {
    onTouch();
    if (isQuestion(name)) {
      answer(name, value);
      return;
    }
    const next = { ...withoutAnswers(values), ...also, [name]: value };
    const at = fields.findIndex((field) => field.name === name);
    if (goesOn(fields[at], byNumber)) nextFocus.current = form.fields(next, opened)[at + 1]?.name ?? null;
    setValues(next);
    setQuestions([]);
    const about = fields.find((field) => unitName(field.name) === name)?.name ?? name;
    setErrors(({ [about]: _mended, ...others }) => others);
    if (byNumber && form.atOnce?.field === name && !form.atOnce.unless.includes(value)) void submit(next);
  }

  /** As entered, on to the next question; else the questions go, and the focus is on what is to be mended. */
  function answer(name: string, value: string): void {
    setErrors({});
    const question = questions.find((one) => questionField(one).name === name);
    const mending = isMending(name, value);
    const next = mending ? withoutAnswers(values) : { ...values, [name]: value };
    const open = questions.find(({ id }) => !isAnswered(next, id));
    nextFocus.current = mending ? (question?.field ?? null) : open === undefined ? null : questionField(open).name;
    setValues(next);
    if (mending) setQuestions([]);
  }

  async function submit(given: Values = values): Promise<void> {
    if (busy) return;
    const read = form.read(given, context());
    if (!read.ok) return refuse(read.errors);
    setErrors({});
    setRefusal([]);
    const toAsk = read.questions ?? [];
    const open = toAsk.find(({ id }) => !isAnswered(given, id));
    if (open === undefined) setRefusal((await run(() => onAsked(read.asked))) ?? []);
    else ask(toAsk, questionField(open).name);
  }

  function ask(toAsk: readonly Question[], name: string): void {
    if (questions.length > 0) setErrors({ [name]: 'A if it is as entered, M to mend the figure' });
    setQuestions(toAsk);
    nextFocus.current = name;
    onAsking();
  }

  /** A field that nobody has come to yet is not wrong: the focus goes there, and no more is said. */
  function refuse(found: Errors): void {
    const names = [...fields, ...asked].map(({ name }) => name);
    const at = names.indexOf(focusedField() ?? '');
    const wrong = names.filter((name) => found[name] !== undefined);
    const reached = wrong.filter((name) => names.indexOf(name) <= at || (values[name] ?? '') !== '');
    const [first] = wrong;
    if (first === undefined) setRefusal(Object.values(found));
    else focusOn(place.current, first);
    setErrors(Object.fromEntries(reached.map((name) => [name, found[name] ?? ''])));
  }

  return { opened, values, fields, asked, errors, refusal, busy, change, submit };
}

/** Whether what was given in a field leads on to the next one. */
const goesOn = (field: Field | undefined, byNumber: boolean): boolean =>
  field?.kind === 'answer' || (field?.kind === 'choice' && field.goesOn === true && byNumber);
