import { type SubmitEvent, useLayoutEffect, useRef, useState } from 'react';
import type { Person } from '../../core/procedure/person.ts';
import { allowedWords, type ReadSetting, readSetting } from '../../core/settings/allowed.ts';
import { settingCautions } from '../../core/settings/cautions.ts';
import { explained } from '../../core/settings/explained.ts';
import {
  type SettingChange,
  type SettingName,
  type SettingValue,
  settingIn,
  settingsWith,
} from '../../core/settings/names.ts';
import { type Settings, settingsSchema } from '../../core/settings/settings.ts';
import { NONE_CHOSEN, typedOf } from '../../core/settings/value-words.ts';
import { focusOn, focusOnFirst } from '../console/field-focus.ts';
import { useFormKeys } from '../console/form-keys.ts';
import { useRoomKeys } from '../ledger/room/room-keys.ts';
import { askSettingsChange } from '../link/requests.ts';
import type { Errors, Field, Values } from '../parts/field.ts';
import { FormField } from '../parts/form-field.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import { useOneAtATime } from '../parts/use-one-at-a-time.ts';
import { REASON_FIELD, reasonIn } from './reason-field.ts';
import { Value } from './value.tsx';
import '../console/form-panel.css';

interface ChangeFormProps {
  readonly name: SettingName;
  readonly settings: Settings;
  /** The entry that `settings` are from. */
  readonly settingsSeq: number;
  readonly by: Person;
  /** With what was changed, where something was. */
  readonly onLeave: (changed?: SettingChange) => void;
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
    if (!changed) return setRefusal('that is what is in force already: nothing to change');
    const to = { kind: 'values', values: { [name]: read.value } } as const;
    const answer = await run(() => askSettingsChange({ by, seenSeq, to, ...reasonIn(values) }));
    if (answer?.type === 'error') setRefusal(answer.says);
    else if (answer !== null) onLeave({ name, before, after: read.value });
  }

  const onKeyDown = useFormKeys({
    names: fields.map((field) => field.name),
    words: 'change it',
    onEnter: () => void enter(),
  });
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
          <span>
            <Way name={name} before={before} read={read} />
          </span>
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

/** What Enter would change: `0.1 mL → 0.2 mL`. */
function Way({ name, before, read }: { name: SettingName; before: SettingValue; read: ReadSetting }) {
  const now = <Value name={name} value={before} />;
  if (!read.ok) return <>{now} → …</>;
  if (read.value !== before) {
    return (
      <>
        {now} → <Value name={name} value={read.value} />
      </>
    );
  }
  return (
    <>
      <span>as it is</span> · {now}
    </>
  );
}

function cautionsOf(name: SettingName, settings: Settings, read: ReadSetting): readonly string[] {
  const before = settingIn(settings, name);
  if (!read.ok || read.value === before) return [];
  const after = settingsSchema.safeParse(settingsWith(settings, { [name]: read.value }));
  return after.success ? settingCautions([{ name, before, after: read.value }], after.data) : [];
}
