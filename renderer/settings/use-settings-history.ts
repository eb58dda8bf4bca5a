import { useEffect, useState } from 'react';
import type { Person } from '../../core/procedure/person.ts';
import type { SettingsHistory } from '../../core/protocol/settings.ts';
import type { Settings } from '../../core/settings/settings.ts';
import { askSettingsHistory } from '../link/requests.ts';

/** Who changed which setting last; in words where that cannot be told, null while it is being asked. */
export type KnownHistory = SettingsHistory | string | null;

/** Asked anew whenever the settings in force are others, or other hands are at the keyboard. */
export function useSettingsHistory(settings: Settings, hands: Person | null): KnownHistory {
  const [history, setHistory] = useState<KnownHistory>(null);
  const asked = JSON.stringify([settings, hands]);
  useEffect(() => {
    let gone = asked === '';
    void askSettingsHistory().then((answer) => {
      if (!gone) setHistory(answer.type === 'error' ? answer.says : answer);
    });
    return () => {
      gone = true;
    };
  }, [asked]);
  return history;
}
