import { type RefObject, useLayoutEffect, useRef, useState } from 'react';
import type { Errors, Values } from '../parts/field.ts';
import { focusedField, focusOn } from './field-focus.ts';
import type { Asked, Form, FormContext } from './forms/form.ts';

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
  readonly onDoubt: () => void;
}

/** What is typed into a form, what is wrong with it, and what came of it. */
export function useForm({ form, context, place, onAsked, onTouch, onDoubt }: FormUse) {
  const [opened] = useState(context);
  const [values, setValues] = useState<Values>(() => form.start(opened));
  const [errors, setErrors] = useState<Errors>({});
  const [doubts, setDoubts] = useState<readonly string[]>([]);
  const [refusal, setRefusal] = useState<readonly string[]>([]);
  const nextFocus = useRef<string | null>(null);
  const fields = form.fields(values, opened);

  useLayoutEffect(() => {
    if (nextFocus.current !== null) focusOn(place.current, nextFocus.current);
    nextFocus.current = null;
  });

  /** `byNumber`: chosen by the key of its number, which for some forms is all that is needed. */
  function change(name: string, value: string, byNumber: boolean): void {
    const next = { ...values, [name]: value };
    const at = fields.findIndex((field) => field.name === name);
    if (fields[at]?.kind === 'answer') nextFocus.current = form.fields(next, opened)[at + 1]?.name ?? null;
    setValues(next);
    setDoubts([]);
    setErrors(({ [name]: _mended, ...others }) => others);
    onTouch();
    if (byNumber && form.atOnce?.field === name && form.atOnce.unless !== value) void submit(next);
  }

  async function submit(given: Values = values): Promise<void> {
    const read = form.read(given, context());
    if (!read.ok) return refuse(read.errors);
    setErrors({});
    const doubted = read.doubts ?? [];
    if (doubted.length > 0 && doubts.length === 0) {
      setDoubts(doubted);
      onDoubt();
    } else setRefusal(await onAsked(read.asked));
  }

  /** A field that nobody has come to yet is not wrong: the focus goes there, and no more is said. */
  function refuse(found: Errors): void {
    const names = fields.map(({ name }) => name);
    const at = names.indexOf(focusedField() ?? '');
    const wrong = names.filter((name) => found[name] !== undefined);
    const reached = wrong.filter((name) => names.indexOf(name) <= at || (values[name] ?? '') !== '');
    const [first] = wrong;
    if (first === undefined) setRefusal(Object.values(found));
    else focusOn(place.current, first);
    setErrors(Object.fromEntries(reached.map((name) => [name, found[name] ?? ''])));
  }

  return { opened, values, fields, errors, doubts, refusal, change, submit };
}
