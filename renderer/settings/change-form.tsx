import { type KeyboardEvent, type SubmitEvent, useLayoutEffect, useRef, useState } from 'react';
import type { Person } from '../../core/procedure/person.ts';
import { allowedWords, type ReadSetting, readSetting } from '../../core/settings/allowed.ts';
import { settingCautions } from '../../core/settings/cautions.ts';
import { explained } from '../../core/settings/explained.ts';
import { type SettingName, type SettingValue, settingIn, settingsWith } from '../../core/settings/names.ts';
import { type Settings, settingsSchema } from '../../core/settings/settings.ts';
import { changeWords, NONE_CHOSEN, typedOf, valueWords } from '../../core/settings/value-words.ts';
import { focusOn, focusOnFirst, moveFocus } from '../console/field-focus.ts';
import { useRoomKeys } from '../ledger/room/room-keys.ts';
import { askSettingsChange } from '../link/requests.ts';
import type { Errors, Field, Values } from '../parts/field.ts';
import { FormField } from '../parts/form-field.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import { REASON_FIELD, reasonIn } from './reason-field.ts';
import { useOneAtATime } from './use-one-at-a-time.ts';
import '../console/form-panel.css';

interface ChangeFormProps {
  readonly name: SettingName;
  readonly settings: Settings;
  /** The entry that `settings` are from. */
  readonly settingsSeq: number;
  readonly by: Person;
  /** With words about what was changed, where something was. */
  readonly onLeave: (words?: string) => void;
}

/** One setting to be changed. The framed line says what Enter would change; while nothing would, it does nothing. */
export function ChangeForm({ name, settings, settingsSeq, by, onLeave }: ChangeFormProps) {
  const place = useRef<HTMLFormElement>(null);
  const before = settingIn(settings, name);
  // Of the settings as they were when the form was opened: what others change meanwhile is not written over unseen.
  const [seenSeq] = useState(settingsSeq);
  const [values, setValues] = useState<Values>(() => ({ value: typedOf(name, before) }));
  const [errors, setErrors] = useState<Errors>({});
  const [refusal, setRefusal] = useState('');
  const { busy, run } = useOneAtATime();
  const read = readSetting(name, values.value ?? '');
  const changed = read.ok && read.value !== before;
  const fields: readonly Field[] = [valueField(name), REASON_FIELD];
  useLayoutEffect(() => focusOnFirst(place.current), []);
  useRoomKeys([{ key: 'Escape', cap: 'Esc', words: 'leave', does: () => onLeave() }], { inForms: true });

  async function enter(): Promise<void> {
    if (!read.ok) {
      setErrors({ value: read.says });
      focusOn(place.current, 'value');
      return;
    }
    if (!changed) return setRefusal(`that is what is in force: ${valueWords(name, before)}`);
    const to = { kind: 'values', values: { [name]: read.value } } as const;
    const answer = await run(() => askSettingsChange({ by, seenSeq, to, ...reasonIn(values) }));
    if (answer?.type === 'error') setRefusal(answer.says);
    else if (answer !== null) onLeave(changeWords({ name, before, after: read.value }));
  }

  const onKeyDown = (event: KeyboardEvent<HTMLFormElement>): void => {
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      moveFocus(
        event,
        fields.map((field) => field.name),
      );
    } else if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement)) {
      event.preventDefault();
      if (!event.repeat) void enter();
    }
  };
  const onSubmit = (event: SubmitEvent): void => {
    event.preventDefault();
    void enter();
  };
  const change = (field: string, typed: string): void => {
    setValues((now) => ({ ...now, [field]: typed }));
    setErrors({});
    setRefusal('');
  };
  return (
    <form ref={place} className="form settings-left" noValidate onSubmit={onSubmit} onKeyDownCapture={onKeyDown}>
      <h2 className="panel-title">change it</h2>
      <div className="form-fields">
        {fields.map((field) => (
          <FormField
            key={field.name}
            field={errors[field.name] === undefined ? field : { ...field, hint: '' }}
            values={values}
            errors={errors}
            onChange={change}
          />
        ))}
      </div>
      <div className="form-end" role="status">
        {cautionsOf(name, settings, read).map((words) => (
          <p key={words} className="setting-caution">
            {words}
          </p>
        ))}
        {refusal !== '' && <p className="missing">{refusal}</p>}
        {busy && <p className="form-not-yet said-busy">writing</p>}
      </div>
      <div className="form-ways">
        <button type="submit" className="way-on" data-open={changed}>
          <span>{wayWords(name, before, read)}</span>
          <KeyCap cap="Enter" calling={changed} />
        </button>
        <button type="button" className="form-leave" onClick={() => onLeave()}>
          <KeyCap cap="Esc" /> leave, as it was
        </button>
      </div>
    </form>
  );
}

function valueField(name: SettingName): Field {
  const { entry, words, none } = explained(name);
  if (entry.as === 'choice') {
    const options = Object.entries(entry.choices).map(([value, choice]) => ({ value, ...choice }));
    const unset = none === undefined ? [] : [{ value: NONE_CHOSEN, words: none }];
    return { kind: 'choice', name: 'value', words, options: [...options, ...unset], rows: true };
  }
  if (entry.as === 'text') return { kind: 'text', name: 'value', words, hint: allowedWords(name), letters: 500 };
  return { kind: 'figure', name: 'value', words, unit: entry.unit, hint: allowedWords(name) };
}

function wayWords(name: SettingName, before: SettingValue, read: ReadSetting): string {
  if (!read.ok) return `${valueWords(name, before)} → …`;
  if (read.value === before) return `as it is: ${valueWords(name, before)}`;
  return `${valueWords(name, before)} → ${valueWords(name, read.value)}`;
}

function cautionsOf(name: SettingName, settings: Settings, read: ReadSetting): readonly string[] {
  const before = settingIn(settings, name);
  if (!read.ok || read.value === before) return [];
  const after = settingsSchema.safeParse(settingsWith(settings, { [name]: read.value }));
  return after.success ? settingCautions([{ name, before, after: read.value }], after.data) : [];
}
