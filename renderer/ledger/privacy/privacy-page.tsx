import { useEffect, useState } from 'react';
import type { Places } from '../../../core/protocol/places.ts';
import { askPlaces } from '../../link/requests.ts';
import { KeyLine } from '../room/key-line.tsx';
import { type RoomKey, useRoomKeys } from '../room/room-keys.ts';
import { SCROLL_KEYS_TOLD, useScrolling } from '../room/scrolling.ts';
import { PRIVACY } from './privacy-words.ts';
import './privacy.css';

/** What is kept of people, where, for how long, and how one of them gets all of it. */
export function PrivacyPage({ keys }: { keys: readonly RoomKey[] }) {
  const place = useScrolling();
  const [places, setPlaces] = useState<Places | string | null>(null);
  useRoomKeys(keys);
  useEffect(() => {
    void askPlaces().then((answer) => setPlaces(answer.type === 'error' ? answer.says : answer));
  }, []);
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is to be reached by the keyboard */}
      <section ref={place} className="privacy" aria-label="privacy" tabIndex={0}>
        {PRIVACY.map(({ title, lines }) => (
          <section key={title} className="privacy-part">
            <h2>{title}</h2>
            <ul>
              {lines.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
            {title === 'where' && <PlacesList places={places} />}
          </section>
        ))}
      </section>
      <KeyLine keys={keys} told={[SCROLL_KEYS_TOLD]} />
    </>
  );
}

function PlacesList({ places }: { places: Places | string | null }) {
  if (places === null) return null;
  if (typeof places === 'string') return <p className="missing">{places}</p>;
  const rows = [
    ['ledger', places.ledger],
    ['its index', places.index],
    ['entries that wait', places.emergency],
    ['second copy', places.copies ?? 'none: the settings name no folder for one'],
    ['settings, regimens, PINs', places.folder],
    ['logs, crash reports', `${places.folder}${places.folder.includes('\\') ? '\\' : '/'}windows`],
  ] as const;
  return (
    <dl className="places">
      {rows.map(([what, path]) => (
        <div key={what}>
          <dt>{what}</dt>
          <dd>{path}</dd>
        </div>
      ))}
    </dl>
  );
}
