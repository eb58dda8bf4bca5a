import { type ReactNode, type RefObject, useLayoutEffect, useRef, useState } from 'react';
import { SURE_WORDS } from '../../core/regimen/source.ts';
import { allowedWords } from '../../core/settings/allowed.ts';
import { explained } from '../../core/settings/explained.ts';
import { TAKES_WORDS } from '../../core/settings/explanation.ts';
import { type SettingName, settingIn } from '../../core/settings/names.ts';
import { PROFILE_DIFFERENCES, PROFILE_SOURCE } from '../../core/settings/profile-texts.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../core/settings/settings.ts';
import { calendarDate, clockTime } from '../../core/time/show.ts';
import { type RoomKey, useRoomKeys } from '../ledger/room/room-keys.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import type { KnownHistory } from './use-settings-history.ts';
import { Value } from './value.tsx';

interface SettingDetailsProps {
  readonly name: SettingName;
  readonly settings: Settings;
  /** What the session in front was opened with; null while none is. */
  readonly session: Settings | null;
  readonly history: KnownHistory;
}

/** One setting: what it is for, where its default comes from, from when it is followed, and who changed it last. */
export function SettingDetails({ name, settings, session, history }: SettingDetailsProps) {
  const place = useRef<HTMLElement>(null);
  const longer = useScrolledSideways(place);
  const { words, about } = explained(name);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what may scroll is to be reached by the keyboard
    <section ref={place} className="setting-details" aria-label="the setting chosen" tabIndex={0}>
      {longer && (
        <p className="setting-more">
          <KeyCap cap="←" />
          <KeyCap cap="→" /> up and down
        </p>
      )}
      <h2 className="setting-words">{words}</h2>
      <p className="setting-value">
        <Value name={name} value={settingIn(settings, name)} />
      </p>
      <p className="setting-about">{about}</p>
      {name === 'profile' && <ProfileTable profile={settings.profile} />}
      <dl className="setting-facts">
        {factsOf(name, settings, session).map(([what, says]) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>{says}</dd>
          </div>
        ))}
        <div>
          <dt>last changed</dt>
          <dd className="setting-last">
            <LastChange name={name} history={history} />
          </dd>
        </div>
      </dl>
    </section>
  );
}

function factsOf(
  name: SettingName,
  settings: Settings,
  session: Settings | null,
): readonly (readonly [what: string, says: ReactNode])[] {
  const { source, takes, entry } = explained(name);
  const value = settingIn(settings, name);
  const opened = session === null ? value : settingIn(session, name);
  const kept = takes === 'next session' && opened !== value;
  const sure = source.sure === 'local' ? '' : ` · ${SURE_WORDS[source.sure]}`;
  return [
    ...(kept ? ([['session in front', <Value key="opened" name={name} value={opened} />]] as const) : []),
    ...(entry.as === 'choice' ? [] : ([['allowed', allowedWords(name)]] as const)),
    ['default', <Value key="default" name={name} value={settingIn(DEFAULT_SETTINGS, name)} />],
    ['source', `${source.text}${sure}`],
    ['followed', TAKES_WORDS[takes]],
  ];
}

/** Where the text is longer than its place, the arrows to the sides move it. Returns whether it is. */
function useScrolledSideways(place: RefObject<HTMLElement | null>): boolean {
  const [longer, setLonger] = useState(false);
  useLayoutEffect(() => {
    const at = place.current;
    setLonger(at !== null && at.scrollHeight > at.clientHeight + 1);
  });
  const by = (share: number) => (): void => place.current?.scrollBy({ top: share * place.current.clientHeight });
  const keys: readonly RoomKey[] = [
    { key: 'ArrowRight', cap: '→', words: 'down the text', repeats: true, does: by(0.4) },
    { key: 'ArrowLeft', cap: '←', words: 'up the text', repeats: true, does: by(-0.4) },
  ];
  useRoomKeys(longer ? keys : []);
  return longer;
}

/** When, by whom, from where, and why, as far as it was said. */
function LastChange({ name, history }: { name: SettingName; history: KnownHistory }) {
  if (history === null) return <>being looked up</>;
  if (typeof history === 'string') return <>{history}</>;
  const last = history.changed[name];
  if (last === undefined) return <>never changed in this ledger</>;
  const { by, wallMs, offsetMin, from, reason } = last;
  const who = by.role === 'station' ? '' : `${by.initials}, ${by.role} · `;
  return (
    <>
      {calendarDate(wallMs, offsetMin)} {clockTime(wallMs, offsetMin)} · {who}by {from}
      {reason !== null && (
        <>
          {' · '}
          <span translate="no">{reason}</span>
        </>
      )}
    </>
  );
}

/** Everything in which the two product texts differ, side by side. */
function ProfileTable({ profile }: { profile: Settings['profile'] }) {
  return (
    <table className="profile-table">
      <caption>what follows from it, by {PROFILE_SOURCE}</caption>
      <thead>
        <tr>
          <td />
          <th scope="col">{profile === 'us' ? 'US, in force' : 'US'}</th>
          <th scope="col">{profile === 'eu' ? 'EU, in force' : 'EU'}</th>
        </tr>
      </thead>
      <tbody>
        {PROFILE_DIFFERENCES.map(({ what, asks }) => (
          <tr key={what}>
            <th scope="row">{what}</th>
            <td data-now={profile === 'us'}>{asks.us}</td>
            <td data-now={profile === 'eu'}>{asks.eu}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
