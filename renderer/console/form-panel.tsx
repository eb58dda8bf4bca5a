import { type KeyboardEvent, type ReactNode, type SubmitEvent, useLayoutEffect, useRef, useState } from 'react';
import type { Values } from '../parts/field.ts';
import { FormField } from '../parts/form-field.tsx';
import { Glyph } from '../parts/glyph.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import { useToldKeys } from '../parts/key-help.ts';
import { numberKey } from '../parts/number-key.ts';
import { focusOnFirst } from './field-focus.ts';
import { FormBeside } from './form-beside.tsx';
import { useFormKeys } from './form-keys.ts';
import type { Asked, Form, FormContext } from './forms/form.ts';
import { useForm } from './use-form.ts';
import './form-panel.css';

interface FormPanelProps {
  readonly form: Form;
  /** As things stand now. */
  readonly context: () => FormContext;
  /** What is missing where the form goes on all the same. */
  readonly missing: readonly string[];
  /** The key that opened it: its bounce is not taken for an entry. */
  readonly openedBy: string;
  /** What was asked is being written. */
  readonly busy: boolean;
  /** Why Enter does not submit now; null where it does. */
  readonly whyNotEnter: () => string | null;
  readonly onAsked: (asked: Asked) => Promise<readonly string[]>;
  readonly onTouch: () => void;
  readonly onAsking: () => void;
  readonly onLeave: () => void;
  /** The right column, where the form has nothing to put there. */
  readonly right: ReactNode;
}

/** A form in the place of the tasks. Enter submits it and nothing else; Esc leaves it without effect. */
export function FormPanel(props: FormPanelProps) {
  const { form, context, missing, openedBy, whyNotEnter, onAsked, onTouch, onAsking, onLeave, right } = props;
  const place = useRef<HTMLFormElement>(null);
  const [notYet, setNotYet] = useState<string | null>(null);
  const entry = useForm({ form, context, place, onAsked, onTouch, onAsking });
  const { opened, values, fields, asked, errors, refusal } = entry;
  const busy = props.busy || entry.busy;
  const beside = form.beside?.(values, opened) ?? null;
  const isBounce = useBounce(openedBy);
  const lastKey = useRef('');
  useLayoutEffect(() => focusOnFirst(place.current), []);

  const enter = () => {
    const why = busy ? 'the last one is still being written' : whyNotEnter();
    setNotYet(why);
    if (why === null) void entry.submit();
  };
  const names = [...fields, ...asked].map(({ name }) => name);
  const press = useFormKeys({ names, words: form.enter, onEnter: enter });
  useToldKeys([LEAVE]);
  const onKeyDown = (event: KeyboardEvent<HTMLFormElement>) => {
    lastKey.current = String(numberKey(event) ?? event.key);
    if (isBounce(lastKey.current) || (event.key === 'Enter' && event.repeat)) {
      event.preventDefault();
      event.stopPropagation();
    } else press(event);
  };
  const onSubmit = (event: SubmitEvent) => {
    event.preventDefault();
    enter();
  };
  const change = (name: string, value: string, also: Values = {}) =>
    entry.change(name, value, also, /^[1-9]$/.test(lastKey.current));

  return (
    <>
      <div className="middle">
        <form ref={place} className="form" tabIndex={-1} noValidate onSubmit={onSubmit} onKeyDownCapture={onKeyDown}>
          <h1 className="form-title">{form.title(opened)}</h1>
          {form.lead !== undefined && <p className="form-lead">{form.lead(opened)}</p>}
          <Missing sentences={missing} />
          <div className="form-fields">
            {fields.map((field) => (
              <FormField key={field.name} field={field} values={values} errors={errors} onChange={change} />
            ))}
          </div>
          <Sums sums={form.sums?.(values, opened) ?? []} />
          <div className="form-end" role="status">
            {asked.map((field) => (
              <FormField key={field.name} field={field} values={values} errors={errors} onChange={change} />
            ))}
            <Missing sentences={refusal} />
            {busy && <p className="form-not-yet said-busy">writing</p>}
            {notYet !== null && !busy && <p className="form-not-yet">{notYet}</p>}
          </div>
          <div className="form-ways">
            <button type="submit" className="way-on" data-open="true">
              <span>{form.enter}</span>
              <KeyCap cap="Enter" calling />
            </button>
            <button type="button" className="form-leave" onClick={onLeave}>
              <KeyCap cap={LEAVE.cap} /> {LEAVE.words}
            </button>
          </div>
        </form>
      </div>
      {beside === null ? right : <FormBeside {...beside} />}
    </>
  );
}

/** Heard by whatever opened the form. */
const LEAVE = { key: 'Escape', cap: 'Esc', words: 'leave, without effect' };

const BOUNCE_MS = 500;

/** Whether a key is the one that opened the form, bouncing. Once another was pressed it is a key like any other. */
function useBounce(openedBy: string): (key: string) => boolean {
  const [openedAtMs] = useState(() => performance.now());
  const mayBounce = useRef(true);
  return (key) => {
    mayBounce.current &&= key === openedBy && performance.now() - openedAtMs < BOUNCE_MS;
    return mayBounce.current;
  };
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
