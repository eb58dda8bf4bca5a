import { type FormEvent, type KeyboardEvent, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { Errors, Values } from '../parts/field.ts';
import { FormField } from '../parts/form-field.tsx';
import { Glyph } from '../parts/glyph.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import type { Asked, Form, FormContext } from './forms/form.ts';
import './form-panel.css';

interface FormPanelProps {
  readonly form: Form;
  /** As things stand now. */
  readonly context: () => FormContext;
  /** What is missing where the form goes on all the same. */
  readonly missing: readonly string[];
  /** The key that opened it: its bounce is not taken for an entry. */
  readonly openedBy: string;
  /** Whether Enter may submit. Otherwise it says why not. */
  readonly mayEnter: () => boolean;
  /** Carries out what was asked. Gives back why not, in sentences. */
  readonly onAsked: (asked: Asked) => Promise<readonly string[]>;
  readonly onDoubt: () => void;
  readonly onLeave: () => void;
}

const BOUNCE_MS = 500;

/** A form in the place of the tasks. Enter submits it and nothing else; Esc leaves it without effect. */
export function FormPanel({ form, context, missing, openedBy, mayEnter, onAsked, onDoubt, onLeave }: FormPanelProps) {
  const place = useRef<HTMLFormElement>(null);
  const [opened] = useState(() => ({ context: context(), atMs: performance.now() }));
  const [values, setValues] = useState<Values>(() => form.start(opened.context));
  const [errors, setErrors] = useState<Errors>({});
  const [doubts, setDoubts] = useState<readonly string[]>([]);
  const [refusal, setRefusal] = useState<readonly string[]>([]);
  const fields = form.fields(values, opened.context);
  const sums = form.sums?.(values, opened.context) ?? [];

  const focusOn = (name: string | undefined) =>
    place.current?.querySelector<HTMLElement>(`[data-field="${name}"]`)?.focus();
  useLayoutEffect(() => {
    const first = place.current?.querySelector<HTMLElement>('[data-field]') ?? place.current;
    first?.focus();
  }, []);

  const change = (name: string, value: string) => {
    const next = { ...values, [name]: value };
    setValues(next);
    setDoubts([]);
    setErrors(({ [name]: _mended, ...others }) => others);
    const at = fields.findIndex((field) => field.name === name);
    if (fields[at]?.kind === 'answer') nextFocus.current = form.fields(next, opened.context)[at + 1]?.name ?? null;
    if (form.atOnce?.field === name && form.atOnce.unless !== value) void submit(next);
  };
  const nextFocus = useRef<string | null>(null);
  useEffect(() => {
    if (nextFocus.current !== null) focusOn(nextFocus.current);
    nextFocus.current = null;
  });

  async function submit(given: Values): Promise<void> {
    const read = form.read(given, context());
    if (!read.ok) return setErrors(shownErrors(read.errors));
    setErrors({});
    if (read.doubts !== undefined && read.doubts.length > 0 && doubts.length === 0) {
      setDoubts(read.doubts);
      return onDoubt();
    }
    setRefusal(await onAsked(read.asked));
  }

  /** A field that nobody has come to yet is not wrong: the focus goes there, and no more is said. */
  function shownErrors(found: Errors): Errors {
    const at = fields.findIndex(({ name }) => name === focusedField());
    const wrong = fields.filter(({ name }) => found[name] !== undefined);
    focusOn(wrong[0]?.name);
    const reached = wrong.filter(
      ({ name }) => fields.findIndex((f) => f.name === name) <= at || (values[name] ?? '') !== '',
    );
    const unplaced = Object.entries(found).filter(([name]) => !fields.some((field) => field.name === name));
    if (wrong.length === 0) setRefusal(unplaced.map(([, says]) => says));
    return Object.fromEntries(reached.map(({ name }) => [name, found[name] ?? '']));
  }

  // Once another key was pressed, the one that opened the form is typed like any other.
  const mayBounce = useRef(true);
  const onKeyDown = (event: KeyboardEvent) => {
    const isBounce = mayBounce.current && event.key === openedBy && performance.now() - opened.atMs < BOUNCE_MS;
    mayBounce.current = isBounce;
    if (isBounce || (event.repeat && event.key === 'Enter')) {
      event.preventDefault();
      event.stopPropagation();
    } else if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement)) {
      event.preventDefault();
      if (mayEnter()) void submit(values);
    } else if (event.key === 'ArrowDown' || event.key === 'ArrowUp')
      moveFocus(
        event,
        fields.map(({ name }) => name),
      );
  };
  const onSubmit = (event: FormEvent) => {
    event.preventDefault();
    if (mayEnter()) void submit(values);
  };

  return (
    <form ref={place} className="form" tabIndex={-1} noValidate onSubmit={onSubmit} onKeyDownCapture={onKeyDown}>
      <h2 className="form-title">{form.title(opened.context)}</h2>
      {form.lead !== undefined && <p className="form-lead">{form.lead(opened.context)}</p>}
      <Missing sentences={missing} />
      <div className="form-fields">
        {fields.map((field) => (
          <FormField key={field.name} field={field} values={values} errors={errors} onChange={change} />
        ))}
      </div>
      {sums.length > 0 && (
        <dl className="form-sums">
          {sums.map(([words, sum]) => (
            <div key={words}>
              <dt>{words}</dt>
              <dd>{sum}</dd>
            </div>
          ))}
        </dl>
      )}
      <div className="form-end" role="status">
        <Missing sentences={refusal} />
        <Missing sentences={doubts} />
        {doubts.length > 0 && <p className="form-doubt">if it is so, press Enter again</p>}
      </div>
      <div className="form-ways">
        <button type="submit" className="way-on" data-open="true">
          <span>{form.enter}</span>
          <KeyCap cap="Enter" calling />
        </button>
        <button type="button" className="form-leave" onClick={onLeave}>
          <KeyCap cap="Esc" /> leave, without effect
        </button>
      </div>
    </form>
  );
}

function Missing({ sentences }: { sentences: readonly string[] }) {
  return sentences.map((sentence) => (
    <p key={sentence} className="missing">
      <Glyph name="missing" /> <span>{sentence}</span>
    </p>
  ));
}

function focusedField(): string | undefined {
  const { activeElement } = document;
  const named =
    activeElement instanceof HTMLInputElement && activeElement.type === 'radio' ? activeElement.name : undefined;
  return named ?? (activeElement instanceof HTMLElement ? activeElement.dataset.field : undefined);
}

/** Up and down go from field to field, where they do not choose. */
function moveFocus(event: KeyboardEvent, names: readonly string[]): void {
  const { target, currentTarget } = event;
  if (!(target instanceof HTMLInputElement) || !(currentTarget instanceof HTMLElement)) return;
  const inAnswer = target.closest('.form-field-answer') !== null;
  if (target.type === 'radio' && !inAnswer) return;
  const at = names.indexOf(focusedField() ?? '');
  const name = names[at + (event.key === 'ArrowDown' ? 1 : -1)];
  event.preventDefault();
  if (name !== undefined) currentTarget.querySelector<HTMLElement>(`[data-field="${name}"]`)?.focus();
}
