import { explained } from '../../core/settings/explained.ts';
import { type SettingChange, type SettingName, settingIn } from '../../core/settings/names.ts';
import type { Settings } from '../../core/settings/settings.ts';
import { KeyLine } from '../ledger/room/key-line.tsx';
import { type RoomKey, useRoomKeys } from '../ledger/room/room-keys.ts';
import { Row } from '../ledger/room/row.tsx';
import { useRowKeys } from '../ledger/room/row-keys.ts';
import { ChangeLine } from './change-line.tsx';
import { Value } from './value.tsx';

interface SettingListProps {
  readonly names: readonly SettingName[];
  /** The setting that the keys have led to. */
  readonly at: SettingName;
  readonly settings: Settings;
  readonly onAt: (name: SettingName) => void;
  readonly onOpen: () => void;
  readonly keys: readonly RoomKey[];
  /** What came of the last key: a sentence, or what was changed. */
  readonly said: string | SettingChange;
}

/** The settings of one group, each with its value. */
export function SettingList({ names, at, settings, onAt, onOpen, keys, said }: SettingListProps) {
  const lead = (to: number): void => {
    const name = names[to];
    if (name !== undefined) onAt(name);
  };
  useRoomKeys(keys);
  const told = useRowKeys({
    at: Math.max(0, names.indexOf(at)),
    rows: names.length,
    onAt: lead,
    enter: { words: 'change it', does: onOpen },
  });
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
        {typeof said === 'string' ? said : <ChangeLine change={said} />}
      </p>
      <KeyLine keys={keys} told={told} />
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
  return (
    <Row look="setting-row" here={here} onPress={onPress}>
      <span>{explained(name).words}</span>
      <span className="row-ink row-end">
        <Value name={name} value={settingIn(settings, name)} />
      </span>
    </Row>
  );
}
