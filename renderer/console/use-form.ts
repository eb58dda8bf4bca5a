import { useEffect, useRef, useState } from 'react';
import { type Errors, type Field, unitName, type Values } from '../parts/field.ts';
import type { Asked, Form, FormContext } from './forms/form.ts';
import { isAnswered, isMending, isQuestion, type Question, questionField, withoutAnswers } from './forms/questions.ts';

interface FormInUse {
  readonly form: Form;
  /** As things stood when it was opened, and as they stand now. */
  readonly opened: FormContext;
  readonly context: () => FormContext;
  readonly focusOn: (name: string | undefined) => void;
  readonly onAsked: (asked: Asked) => Promise<readonly string[]>;
  readonly onAsking: () => void;
}

/** What is typed into a form, what is wrong with it, and what is asked about it before it is given. */
export function useForm({ form, opened, context, focusOn, onAsked, onAsking }: FormInUse) {
  const [values, setValues] = useState<Values>(() => form.start(opened));
  const [errors, setErrors] = useState<Errors>({});
  const [questions, setQuestions] = useState<readonly Question[]>([]);
  const [refusal, setRefusal] = useState<readonly string[]>([]);
  const fields = form.fields(values, opened);
  const asked: readonly Field[] = questions.map(questionField);
  const every = [...fields, ...asked];
  const nextFocus = useRef<string | null>(null);
  useEffect(() => {
    if (nextFocus.current !== null) focusOn(nextFocus.current);
    nextFocus.current = null;
  });

  function change(name: string, value: string): void {
    if (isMending(name, value)) {
      mend(questions.find((question) => questionField(question).name === name));
      return;
    }
    const next = { ...(isQuestion(name) ? values : withoutAnswers(values)), [name]: value };
    setValues(next);
    if (!isQuestion(name)) setQuestions([]);
    const about = fields.find((field) => unitName(field.name) === name)?.name ?? name;
    setErrors(({ [about]: _mended, ...others }) => others);
    nextFocus.current = focusAfter(name, next);
    if (form.atOnce?.field === name && form.atOnce.unless !== value) void submit(next);
  }

  function mend(question: Question | undefined): void {
    setValues(withoutAnswers(values));
    setQuestions([]);
    nextFocus.current = question?.field ?? null;
  }

  /** An answer leads on to the next question; whatever else is chosen keeps the focus. */
  function focusAfter(name: string, next: Values): string | null {
    if (isQuestion(name)) {
      const open = questions.find(
        (question) => questionField(question).name !== name && !isAnswered(next, question.id),
      );
      return open === undefined ? null : questionField(open).name;
    }
    const at = fields.findIndex((field) => field.name === name);
    return fields[at]?.kind === 'answer' ? (form.fields(next, opened)[at + 1]?.name ?? null) : null;
  }

  async function submit(given: Values): Promise<void> {
    const read = form.read(given, context());
    if (!read.ok) return setErrors(shownErrors(read.errors));
    setErrors({});
    setRefusal([]);
    const [open] = (read.questions ?? []).filter(({ id }) => !isAnswered(given, id));
    if (open !== undefined) return ask(read.questions ?? [], open);
    setRefusal(await onAsked(read.asked));
  }

  function ask(all: readonly Question[], open: Question): void {
    const { name } = questionField(open);
    if (questions.length > 0) setErrors({ [name]: 'A if it is as entered, M to mend the figure' });
    setQuestions(all);
    nextFocus.current = name;
    onAsking();
  }

  /** A field that nobody has come to yet is not wrong: the focus goes there, and no more is said. */
  function shownErrors(found: Errors): Errors {
    const at = every.findIndex(({ name }) => name === focusedField());
    const wrong = every.filter(({ name }) => found[name] !== undefined);
    focusOn(wrong[0]?.name);
    const reached = wrong.filter(
      ({ name }) => every.findIndex((field) => field.name === name) <= at || (values[name] ?? '') !== '',
    );
    const unplaced = Object.entries(found).filter(([name]) => !every.some((field) => field.name === name));
    if (wrong.length === 0) setRefusal(unplaced.map(([, says]) => says));
    return Object.fromEntries(reached.map(({ name }) => [name, found[name] ?? '']));
  }

  return { values, errors, refusal, fields, asked, every, change, submit: () => void submit(values) };
}

/** The name of the field that has the focus. */
export function focusedField(): string | undefined {
  const { activeElement } = document;
  const named =
    activeElement instanceof HTMLInputElement && activeElement.type === 'radio' ? activeElement.name : undefined;
  return named ?? (activeElement instanceof HTMLElement ? activeElement.dataset.field : undefined);
}
