import { type SubmitEvent, useEffect, useLayoutEffect, useRef, useState } from 'react';
import type { WholeReading } from '../../../core/protocol/verifying.ts';
import { readThrough } from '../../link/read-through.ts';
import { useSnapshot } from '../../link/store.ts';
import { FormField } from '../../parts/form-field.tsx';
import { Glyph } from '../../parts/glyph.tsx';
import { KeyLine } from '../room/key-line.tsx';
import { type RoomKey, useRoomKeys } from '../room/room-keys.ts';
import { type Verdict, verdictOf } from './verdict.ts';
import './verify.css';

type Came =
  | { readonly stage: 'reading'; readonly share: number }
  | { readonly stage: 'read'; readonly reading: WholeReading; readonly withAnchor: boolean }
  | { readonly stage: 'refused'; readonly says: string };

/** Reads the whole ledger, from its first entry to its last, and says what that comes to. */
export function VerifyPanel({ onLeave }: { onLeave: () => void }) {
  const place = useRef<HTMLElement>(null);
  const [anchor, setAnchor] = useState<string | null>(null);
  const [typed, setTyped] = useState('');
  const came = useWholeReading(anchor);
  const offsetMin = useSnapshot()?.offsetMin ?? 0;
  useLayoutEffect(() => place.current?.focus(), []);
  const toAnchor: RoomKey = {
    key: 'k',
    cap: 'K',
    words: 'hold it against an anchor kept elsewhere',
    does: () => place.current?.querySelector<HTMLElement>('[data-field="anchor"]')?.focus(),
  };
  const leave: RoomKey = { key: 'Escape', cap: 'Esc', words: 'back', does: onLeave };
  useRoomKeys([toAnchor]);
  useRoomKeys([leave], { inForms: true });
  const onSubmit = (event: SubmitEvent): void => {
    event.preventDefault();
    setAnchor(typed.trim() === '' ? null : typed.trim());
    place.current?.focus();
  };
  return (
    <section ref={place} className="verify-panel" aria-label="verify" tabIndex={-1}>
      <h2 className="panel-title">is the ledger sound?</h2>
      <div className="verify-verdict" role="status">
        {came.stage === 'reading' && <p>reading it from its first entry: {Math.floor(came.share * 100)} %</p>}
        {came.stage === 'refused' && <p className="missing">{came.says}</p>}
        {came.stage === 'read' && <VerdictWords verdict={verdictOf(came.reading, came.withAnchor, offsetMin)} />}
      </div>
      {came.stage === 'read' && 'headSeq' in came.reading && <Head reading={came.reading} />}
      <form className="verify-anchor" noValidate onSubmit={onSubmit}>
        <FormField
          field={{
            kind: 'text',
            name: 'anchor',
            words: 'kept elsewhere',
            hint: 'as a slip or a copy of it says: dimroom:…; Enter reads',
          }}
          values={{ anchor: typed }}
          errors={{}}
          onChange={(_name, value) => setTyped(value)}
        />
      </form>
      <KeyLine keys={[toAnchor, leave]} />
    </section>
  );
}

function VerdictWords({ verdict: { sound, words, lines } }: { verdict: Verdict }) {
  return (
    <>
      <p className="verdict" data-sound={sound}>
        <Glyph name={sound ? 'done' : 'missing'} /> {words}
      </p>
      <ul className="verdict-lines">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  );
}

function Head({ reading: { headSeq, headHash, anchor } }: { reading: Extract<WholeReading, { headSeq: number }> }) {
  return (
    <dl className="verify-head">
      <dt>last entry</dt>
      <dd>{headSeq}</dd>
      <dt>its sha-256</dt>
      <dd className="ledger-hash">{headHash ?? 'there is none'}</dd>
      <dt>anchor</dt>
      <dd className="ledger-hash">{anchor ?? 'none: the first entry does not name the file'}</dd>
    </dl>
  );
}

/** Begins at once, and anew for another anchor. */
function useWholeReading(anchor: string | null): Came {
  const [came, setCame] = useState<Came>({ stage: 'reading', share: 0 });
  useEffect(() => {
    const ended = new AbortController();
    setCame({ stage: 'reading', share: 0 });
    void readThrough(anchor, (share) => setCame({ stage: 'reading', share }), ended.signal).then((reading) => {
      if (reading === null) return;
      if ('says' in reading) setCame({ stage: 'refused', says: reading.says });
      else setCame({ stage: 'read', reading, withAnchor: anchor !== null });
    });
    return () => ended.abort();
  }, [anchor]);
  return came;
}
