import {
  type ChangeEvent,
  type SubmitEvent,
  useEffect,
  useEffectEvent,
  useLayoutEffect,
  useRef,
  useState,
} from 'react';
import type { Person } from '../../core/procedure/person.ts';
import { type ReadSettings, SETTINGS_FILE_BYTES, type SettingsFile } from '../../core/protocol/settings.ts';
import { settingCautions } from '../../core/settings/cautions.ts';
import { settingsWith } from '../../core/settings/names.ts';
import { type Settings, settingsSchema } from '../../core/settings/settings.ts';
import { focusOn } from '../console/field-focus.ts';
import { useFormKeys } from '../console/form-keys.ts';
import { useRoomKeys } from '../ledger/room/room-keys.ts';
import { askReadSettings, askSettingsChange } from '../link/requests.ts';
import type { Values } from '../parts/field.ts';
import { FormField } from '../parts/form-field.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import { useOneAtATime } from '../parts/use-one-at-a-time.ts';
import { ChangeLine } from './change-line.tsx';
import { REASON_FIELD, reasonIn } from './reason-field.ts';

interface FilePanelProps {
  readonly settings: Settings;
  /** The entry that `settings` are from. */
  readonly settingsSeq: number;
  readonly by: Person;
  readonly onLeave: (words?: string) => void;
}

/** A file that was read, what it would change, and of which settings. */
interface Taken {
  readonly file: SettingsFile;
  readonly read: ReadSettings;
  readonly seenSeq: number;
}

/** Settings from a file, seen before they are taken. A file with a fault changes nothing. */
export function FilePanel({ settings, settingsSeq, by, onLeave }: FilePanelProps) {
  const place = useRef<HTMLFormElement>(null);
  const [taken, setTaken] = useState<Taken | null>(null);
  const [values, setValues] = useState<Values>({});
  const [refusal, setRefusal] = useState('');
  const { busy, run } = useOneAtATime();
  const changes = taken?.read.changes ?? [];
  useEffect(() => focusOn(place.current, 'file'), []);
  useRoomKeys([{ key: 'Escape', cap: 'Esc', words: 'leave', does: () => onLeave() }], { inForms: true });
  usePasted((text) => void take(PASTED, new TextEncoder().encode(text)));

  async function take(fileName: string, bytes: Uint8Array): Promise<void> {
    const seenSeq = settingsSeq;
    setTaken(null);
    if (bytes.length > SETTINGS_FILE_BYTES) return setRefusal(`${fileName} is too long for a file of settings`);
    const file = { fileName: fileName.slice(0, 200), base64: base64Of(bytes) };
    const answer = await run(() => askReadSettings(file));
    if (answer === null) return;
    setRefusal(answer.type === 'error' ? answer.says : '');
    if (answer.type !== 'error') setTaken({ file, read: answer, seenSeq });
    // From here on Enter takes the file; on the button it would choose another.
    place.current?.focus();
  }

  async function enter(): Promise<void> {
    if (taken === null) return setRefusal('choose a file first');
    if (changes.length === 0) return;
    const { file, seenSeq } = taken;
    const answer = await run(() =>
      askSettingsChange({ by, seenSeq, to: { kind: 'file', ...file }, ...reasonIn(values) }),
    );
    if (answer?.type === 'error') setRefusal(answer.says);
    else if (answer !== null) onLeave(takenWords(changes.length, file.fileName));
  }

  const choose = (event: ChangeEvent<HTMLInputElement>): void => {
    const [file] = event.target.files ?? [];
    if (file === undefined) return;
    void file.arrayBuffer().then(
      (bytes) => take(file.name, new Uint8Array(bytes)),
      () => setRefusal(`${file.name} cannot be read: choose it again`),
    );
  };
  const way = changes.length === 0 ? 'nothing to take yet' : takeWords(changes.length);
  const onKeyDown = useFormKeys({ words: way, onEnter: () => void enter(), own: choosesFile });
  const onSubmit = (event: SubmitEvent): void => {
    event.preventDefault();
    void enter();
  };
  return (
    <form
      ref={place}
      className="form settings-file"
      aria-label="settings from a file"
      tabIndex={-1}
      noValidate
      onSubmit={onSubmit}
      onKeyDownCapture={onKeyDown}
    >
      <h2 className="panel-title">settings from a file</h2>
      <p className="panel-lead">
        A file that was saved here, or one like it. All of it is taken: what it leaves out has its default. What would
        change is shown first.
      </p>
      <div className="settings-choose">
        <label className="settings-choose-file">
          <input type="file" accept=".json,application/json" data-field="file" onChange={choose} />
          choose a file of settings
        </label>
        <span>
          <KeyCap cap="Ctrl V" /> or paste its text
        </span>
        {taken !== null && <FileName name={taken.file.fileName} />}
      </div>
      <div className="form-fields" role="status">
        <Preview taken={taken} settings={settings} />
        {refusal !== '' && <p className="missing">{refusal}</p>}
        {busy && <p className="form-not-yet said-busy">at work</p>}
      </div>
      {changes.length > 0 && (
        <FormField
          field={REASON_FIELD}
          values={values}
          errors={{}}
          onChange={(name, value) => setValues({ [name]: value })}
        />
      )}
      <div className="form-ways">
        <button type="submit" className="way-on" data-open={changes.length > 0}>
          <span>{way}</span>
          <KeyCap cap="Enter" calling={changes.length > 0} />
        </button>
        <button type="button" className="form-leave" onClick={() => onLeave()}>
          <KeyCap cap="Esc" /> leave, as it was
        </button>
      </div>
    </form>
  );
}

/** On the button for a file, Enter chooses another. */
const choosesFile = (target: EventTarget): boolean => target instanceof HTMLInputElement && target.type === 'file';

function Preview({ taken, settings }: { taken: Taken | null; settings: Settings }) {
  if (taken === null) return null;
  const { faults, changes } = taken.read;
  if (faults.length > 0) {
    return (
      <>
        {faults.map((fault) => (
          <p key={fault} className="missing" translate="no" lang="en">
            {fault}
          </p>
        ))}
        <p>The file is not used: mend it, and choose it again.</p>
      </>
    );
  }
  if (changes.length === 0) return <p>{taken.file.fileName} says what is in force already: nothing would change</p>;
  const after = settingsSchema.safeParse(
    settingsWith(settings, Object.fromEntries(changes.map(({ name, after }) => [name, after]))),
  );
  return (
    <>
      <ul className="settings-changes" aria-label="what would change">
        {changes.map((change) => (
          <li key={change.name}>
            <ChangeLine change={change} />
          </li>
        ))}
      </ul>
      {(after.success ? settingCautions(changes, after.data) : []).map((words) => (
        <p key={words} className="setting-caution">
          {words}
        </p>
      ))}
    </>
  );
}

/** How text that was pasted is called, in the ledger too. */
const PASTED = 'pasted text';

const FileName = ({ name }: { name: string }) =>
  name === PASTED ? <span>{PASTED}</span> : <span translate="no">{name}</span>;

/** Text that is pasted anywhere but into a field. */
function usePasted(onText: (text: string) => void): void {
  const heard = useEffectEvent((event: ClipboardEvent) => {
    if (event.target instanceof HTMLInputElement && event.target.type === 'text') return;
    const text = event.clipboardData?.getData('text/plain') ?? '';
    if (text === '') return;
    event.preventDefault();
    onText(text);
  });
  useLayoutEffect(() => {
    const hear = (event: ClipboardEvent) => heard(event);
    window.addEventListener('paste', hear);
    return () => window.removeEventListener('paste', hear);
  }, []);
}

const takeWords = (count: number): string => (count === 1 ? 'take 1 setting' : `take ${count} settings`);

const takenWords = (count: number, file: string): string =>
  count === 1 ? `1 setting taken from ${file}` : `${count} settings taken from ${file}`;

const base64Of = (bytes: Uint8Array): string => btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''));
