import { explained } from '../../core/settings/explained.ts';
import { type SettingName, settingIn } from '../../core/settings/names.ts';
import type { Settings } from '../../core/settings/settings.ts';
import { valueWords } from '../../core/settings/value-words.ts';
import { KeyLine } from '../ledger/room/key-line.tsx';
import { type RoomKey, useRoomKeys } from '../ledger/room/room-keys.ts';
import { ROW_KEYS_TOLD, useRowFocus, useRowKeys } from '../ledger/room/row-keys.ts';

interface SettingListProps {
  readonly names: readonly SettingName[];
  /** The setting that the keys have led to. */
  readonly at: SettingName;
  readonly settings: Settings;
  readonly onAt: (name: SettingName) => void;
  readonly onOpen: () => void;
  readonly keys: readonly RoomKey[];
  readonly said: string;
}

/** The settings of one group, each with its value. */
export function SettingList({ names, at, settings, onAt, onOpen, keys, said }: SettingListProps) {
  const lead = (to: number): void => {
    const name = names[to];
    if (name !== undefined) onAt(name);
  };
  useRoomKeys(keys);
  useRowKeys({ at: Math.max(0, names.indexOf(at)), rows: names.length, onAt: lead, onEnter: onOpen });
  return (
    <div className="settings-left">
      <ol className="rows" aria-label="settings of this group">
        {names.map((name) => (
          <li key={name}>
            <SettingLine name={name} settings={settings} here={name === at} onPress={() => onAt(name)} />
          </li>
        ))}
      </ol>
      <p className="room-said" role="status">
        {said}
      </p>
      <KeyLine keys={keys} told={[ROW_KEYS_TOLD, [['Enter'], 'change it']]} />
    </div>
  );
}

interface SettingLineProps {
  readonly name: SettingName;
  readonly settings: Settings;
  readonly here: boolean;
  readonly onPress: () => void;
}

function SettingLine({ name, settings, here, onPress }: SettingLineProps) {
  const line = useRowFocus(here);
  return (
    <button
      ref={line}
      type="button"
      className="row setting-row"
      data-here={here}
      aria-current={here}
      tabIndex={here ? 0 : -1}
      onClick={onPress}
    >
      <span>{explained(name).words}</span>
      <span className="row-ink row-end">{valueWords(name, settingIn(settings, name))}</span>
    </button>
  );
}
