import { type SubmitEvent, useLayoutEffect, useRef, useState } from 'react';
import type { FindFilter } from '../../../core/ledger/find-filter.ts';
import { focusOn } from '../../console/field-focus.ts';
import { useFormKeys } from '../../console/form-keys.ts';
import { useSnapshot } from '../../link/store.ts';
import type { Errors, Values } from '../../parts/field.ts';
import { FormField } from '../../parts/form-field.tsx';
import { KeyCap } from '../../parts/key-cap.tsx';
import { type RoomKey, useRoomKeys } from '../room/room-keys.ts';
import { filterFields, type Nameable } from './filter-fields.ts';
import { QUICK_CHOICES } from './quick-choices.ts';
import { readFilter, typedOf } from './read-filter.ts';

interface FindPanelProps {
  readonly filter: FindFilter;
  readonly names: Nameable;
  readonly onFilter: (filter: FindFilter) => void;
  readonly onLeave: () => void;
}

/**
 * What is looked for. A number takes one of the usual questions, a letter leads to a field; Enter looks for all that
 * the fields say together.
 */
export function FindPanel({ filter, names, onFilter, onLeave }: FindPanelProps) {
  const place = useRef<HTMLFormElement>(null);
  const wallMs = useSnapshot()?.wallMs ?? 0;
  const [values, setValues] = useState<Values>(() => typedOf(filter, names));
  const [errors, setErrors] = useState<Errors>({});
  const fields = filterFields(values, names);
  useLayoutEffect(() => place.current?.focus(), []);

  function look(): void {
    const read = readFilter(values, names);
    if (read.ok) {
      onFilter(read.filter);
      return;
    }
    setErrors(read.errors);
    const first = fields.find(({ field }) => read.errors[field.name] !== undefined);
    if (first !== undefined) focusOn(place.current, first.field.name);
  }

  const quick = QUICK_CHOICES.map(
    ({ words, filter: asked }, index): RoomKey => ({
      key: String(index + 1),
      cap: String(index + 1),
      words,
      does: () => onFilter(asked(wallMs)),
    }),
  );
  const toField = fields.map(
    ({ key, field }): RoomKey => ({
      key,
      cap: key.toUpperCase(),
      words: field.words,
      does: () => focusOn(place.current, field.name),
    }),
  );
  const onKeyDown = useFormKeys({ names: fields.map(({ field }) => field.name), words: 'look for it', onEnter: look });
  useRoomKeys([...quick, ...toField]);
  useRoomKeys([{ key: 'Escape', cap: 'Esc', words: 'leave', does: onLeave }], { inForms: true });

  const change = (name: string, value: string): void => {
    setValues((now) => ({ ...now, [name]: value }));
    setErrors(({ [name]: _mended, ...others }) => others);
  };
  const onSubmit = (event: SubmitEvent): void => {
    event.preventDefault();
    look();
  };
  return (
    <form ref={place} className="find-panel" tabIndex={-1} noValidate onSubmit={onSubmit} onKeyDownCapture={onKeyDown}>
      <h2 className="find-title">what are you looking for?</h2>
      <ol className="quick-choices" aria-label="usual questions">
        {quick.map(({ cap, words, does }) => (
          <li key={cap}>
            <button type="button" onClick={does}>
              <KeyCap cap={cap} /> {words}
            </button>
          </li>
        ))}
      </ol>
      <p className="find-lead">or, by its letter, anything that is known; all of it together:</p>
      <div className="find-fields">
        {fields.map(({ key, field }) => (
          <div key={key} className="find-field">
            <KeyCap cap={key.toUpperCase()} />
            <FormField
              field={errors[field.name] === undefined ? field : { ...field, hint: '' }}
              values={values}
              errors={errors}
              onChange={change}
            />
          </div>
        ))}
      </div>
      <p className="unseen" role="status">
        {Object.values(errors).join('. ')}
      </p>
      <div className="form-ways">
        <button type="submit" className="way-on" data-open="true">
          <span>look for it</span>
          <KeyCap cap="Enter" calling />
        </button>
        <button type="button" className="form-leave" onClick={onLeave}>
          <KeyCap cap="Esc" /> leave, as it was
        </button>
      </div>
    </form>
  );
}
