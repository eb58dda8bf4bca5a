import { useState } from 'react';
import { explained, settingsOfGroup } from '../../core/settings/explained.ts';
import { SETTING_GROUPS } from '../../core/settings/explanation.ts';
import { SETTINGS_FILE_NAME, settingsFileText } from '../../core/settings/file-text.ts';
import type { SettingChange, SettingName } from '../../core/settings/names.ts';
import { DEFAULT_SETTINGS } from '../../core/settings/settings.ts';
import { useHands } from '../console/hands.ts';
import { keepTyping } from '../ledger/room/keep-typing.ts';
import type { RoomKey } from '../ledger/room/room-keys.ts';
import { Tabs } from '../ledger/room/tabs.tsx';
import { saveParts } from '../link/save-file.ts';
import { useFront, useSnapshot } from '../link/store.ts';
import { ChangeForm } from './change-form.tsx';
import { FilePanel } from './file-panel.tsx';
import { SettingDetails } from './setting-details.tsx';
import { SettingList } from './setting-list.tsx';
import { useSettingsHistory } from './use-settings-history.ts';
import '../ledger/ledger.css';
import '../ledger/room/room.css';
import './settings.css';

const SIGN_IN_FIRST = 'first, whose hands are at the keyboard: W, then come back with J';

/** What the site decides for itself: each setting with what it is for, and where it comes from. */
export function SettingsRoom({ onLeave }: { onLeave: () => void }) {
  const snapshot = useSnapshot();
  const front = useFront();
  const hands = useHands();
  const settings = snapshot?.settings ?? DEFAULT_SETTINGS;
  const settingsSeq = snapshot?.settingsSeq ?? 0;
  const history = useSettingsHistory(settings, hands);
  const [name, setName] = useState<SettingName>('profile');
  const [over, setOver] = useState<'change' | 'file' | null>(null);
  const [said, setSaid] = useState<string | SettingChange>('');

  const lead = (to: SettingName): void => {
    setName(to);
    setSaid('');
  };
  const ask = (what: 'change' | 'file'): void => {
    setSaid(hands === null ? SIGN_IN_FIRST : '');
    if (hands !== null) setOver(what);
  };
  const back = (what: string | SettingChange = ''): void => {
    setOver(null);
    setSaid(what);
  };
  const exportFile = (): void => {
    const bytes = new TextEncoder().encode(settingsFileText(settings));
    saveParts(SETTINGS_FILE_NAME, 'application/json', [bytes]);
    setSaid(`${SETTINGS_FILE_NAME} is made: look where downloads are kept`);
  };
  const keys: readonly RoomKey[] = [
    { key: 'e', cap: 'E', words: 'save all as a file', does: exportFile },
    { key: 'i', cap: 'I', words: 'take in a file', does: () => ask('file') },
    { key: 'Escape', cap: 'Esc', words: 'back to the console', does: onLeave },
  ];
  const at = explained(name).group;
  // Hands that were away for too long leave what they had begun.
  const shown = hands === null ? null : over;
  return (
    <section className="ledger settings" aria-label="settings" onKeyDown={keepTyping}>
      <header className="room-head">
        <h1 className="title">settings</h1>
        <p className="room-who">
          {snapshot?.practice === true && (
            <>
              <span className="practice-mark">PRACTICE</span> <span>settings of its own</span> ·{' '}
            </>
          )}
          {hands === null ? 'nobody signed in' : `${hands.initials}, ${hands.role}`}
        </p>
        {shown === null && (
          <Tabs
            tabs={SETTING_GROUPS}
            at={at}
            onGo={(group) => lead(settingsOfGroup(group)[0] ?? name)}
            label="groups of settings"
          />
        )}
      </header>
      <div className="settings-columns">
        {shown === 'change' && hands !== null && (
          <ChangeForm name={name} settings={settings} settingsSeq={settingsSeq} by={hands} onLeave={back} />
        )}
        {shown === 'file' && hands !== null && (
          <FilePanel settings={settings} settingsSeq={settingsSeq} by={hands} onLeave={back} />
        )}
        {shown === null && (
          <SettingList
            names={settingsOfGroup(at)}
            at={name}
            settings={settings}
            onAt={lead}
            onOpen={() => ask('change')}
            keys={keys}
            said={said}
          />
        )}
        {shown !== 'file' && (
          <SettingDetails name={name} settings={settings} session={front?.settings ?? null} history={history} />
        )}
      </div>
    </section>
  );
}
