import { type FormEvent, type KeyboardEvent, type ReactNode, useLayoutEffect, useRef, useState } from 'react';
import { FormField } from '../parts/form-field.tsx';
import { Glyph } from '../parts/glyph.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import { FormBeside } from './form-beside.tsx';
import type { Asked, Form, FormContext } from './forms/form.ts';
import { focusedField, useForm } from './use-form.ts';
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
  /** Something is asked about what was typed: Enter has to be let go in between. */
  readonly onAsking: () => void;
  readonly onLeave: () => void;
  /** The right column, where the form has nothing to put there. */
  readonly right: ReactNode;
}

const BOUNCE_MS = 500;

/** A form in the place of the tasks. Enter submits it and nothing else; Esc leaves it without effect. */
export function FormPanel(props: FormPanelProps) {
  const { form, context, missing, openedBy, mayEnter, onAsked, onAsking, onLeave, right } = props;
  const place = useRef<HTMLFormElement>(null);
  const [opened] = useState(() => ({ context: context(), atMs: performance.now() }));
  const focusOn = (name: string | undefined) =>
    place.current?.querySelector<HTMLElement>(`[data-field="${name}"]`)?.focus();
  const { values, errors, refusal, fields, asked, every, change, submit } = useForm({
    form,
    opened: opened.context,
    context,
    focusOn,
    onAsked,
    onAsking,
  });
  const sums = form.sums?.(values, opened.context) ?? [];
  const beside = form.beside?.(values, opened.context) ?? null;
  useLayoutEffect(() => {
    const first = place.current?.querySelector<HTMLElement>('[data-field]') ?? place.current;
    first?.focus();
  }, []);

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
      if (mayEnter()) submit();
    } else if (event.key === 'ArrowDown' || event.key === 'ArrowUp')
      moveFocus(
        event,
        every.map(({ name }) => name),
      );
  };
  const onSubmit = (event: FormEvent) => {
    event.preventDefault();
    if (mayEnter()) submit();
  };

  return (
    <>
      <div className="middle">
        <form ref={place} className="form" tabIndex={-1} noValidate onSubmit={onSubmit} onKeyDownCapture={onKeyDown}>
          <h2 className="form-title">{form.title(opened.context)}</h2>
          {form.lead !== undefined && <p className="form-lead">{form.lead(opened.context)}</p>}
          <Missing sentences={missing} />
          <div className="form-fields">
            {fields.map((field) => (
              <FormField key={field.name} field={field} values={values} errors={errors} onChange={change} />
            ))}
          </div>
          <Sums sums={sums} />
          <div className="form-end" role="status">
            {asked.map((field) => (
              <FormField key={field.name} field={field} values={values} errors={errors} onChange={change} />
            ))}
            <Missing sentences={refusal} />
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
      </div>
      {beside === null ? right : <FormBeside {...beside} />}
    </>
  );
}

function Sums({ sums }: { sums: readonly (readonly [string, string])[] }) {
  if (sums.length === 0) return null;
  return (
    <dl className="form-sums">
      {sums.map(([words, sum]) => (
        <div key={words}>
          <dt>{words}</dt>
          <dd>{sum}</dd>
        </div>
      ))}
    </dl>
  );
}

function Missing({ sentences }: { sentences: readonly string[] }) {
  return sentences.map((sentence) => (
    <p key={sentence} className="missing">
      <Glyph name="missing" /> <span>{sentence}</span>
    </p>
  ));
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
