import { type RefObject, useLayoutEffect, useRef, useState } from 'react';
import { type Errors, unitName, type Values } from '../parts/field.ts';
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
  /** What was typed looks like a slip: it is asked about first. */
  readonly onAsking: () => void;
}

/** What is typed into a form, what is wrong with it, what is asked about it, and what came of it. */
export function useForm({ form, context, place, onAsked, onTouch, onAsking }: FormUse) {
  const [opened] = useState(context);
  const [values, setValues] = useState<Values>(() => form.start(opened));
  const [errors, setErrors] = useState<Errors>({});
  const [asking, setAsking] = useState<readonly Question[]>([]);
  const [refusal, setRefusal] = useState<readonly string[]>([]);
  const nextFocus = useRef<string | null>(null);
  const fields = form.fields(values, opened);
  const questions = asking.map(questionField);

  useLayoutEffect(() => {
    if (nextFocus.current !== null) focusOn(place.current, nextFocus.current);
    nextFocus.current = null;
  });

  /** `byNumber`: chosen by the key of its number, which for some forms is all that is needed. */
  function change(name: string, value: string, byNumber: boolean): void {
    onTouch();
    if (isMending(name, value)) {
      mend(asking.find((question) => questionField(question).name === name));
      return;
    }
    const next = { ...(isQuestion(name) ? values : withoutAnswers(values)), [name]: value };
    setValues(next);
    if (!isQuestion(name)) setAsking([]);
    const about = fields.find((field) => unitName(field.name) === name)?.name ?? name;
    setErrors(({ [about]: _mended, ...others }) => others);
    nextFocus.current = focusAfter(name, next);
    if (byNumber && form.atOnce?.field === name && form.atOnce.unless !== value) void submit(next);
  }

  function mend(question: Question | undefined): void {
    setValues(withoutAnswers(values));
    setAsking([]);
    nextFocus.current = question?.field ?? null;
  }

  /** An answer leads on to the next question; whatever else is chosen keeps the focus. */
  function focusAfter(name: string, next: Values): string | null {
    if (isQuestion(name)) {
      const open = asking.find((one) => questionField(one).name !== name && !isAnswered(next, one.id));
      return open === undefined ? null : questionField(open).name;
    }
    const at = fields.findIndex((field) => field.name === name);
    return fields[at]?.kind === 'answer' ? (form.fields(next, opened)[at + 1]?.name ?? null) : null;
  }

  async function submit(given: Values = values): Promise<void> {
    const read = form.read(given, context());
    if (!read.ok) return refuse(read.errors);
    setErrors({});
    setRefusal([]);
    const [open] = (read.questions ?? []).filter(({ id }) => !isAnswered(given, id));
    if (open !== undefined) return ask(read.questions ?? [], open);
    setRefusal(await onAsked(read.asked));
  }

  function ask(all: readonly Question[], open: Question): void {
    const { name } = questionField(open);
    if (asking.length > 0) setErrors({ [name]: 'A if it is as entered, M to mend the figure' });
    setAsking(all);
    nextFocus.current = name;
    onAsking();
  }

  /** A field that nobody has come to yet is not wrong: the focus goes there, and no more is said. */
  function refuse(found: Errors): void {
    const names = [...fields, ...questions].map(({ name }) => name);
    const at = names.indexOf(focusedField() ?? '');
    const wrong = names.filter((name) => found[name] !== undefined);
    const reached = wrong.filter((name) => names.indexOf(name) <= at || (values[name] ?? '') !== '');
    const [first] = wrong;
    if (first === undefined) setRefusal(Object.values(found));
    else focusOn(place.current, first);
    setErrors(Object.fromEntries(reached.map((name) => [name, found[name] ?? ''])));
  }

  return { opened, values, fields, questions, errors, refusal, change, submit };
}
