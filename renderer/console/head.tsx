import type { Person } from '../../core/procedure/person.ts';
import type { Snapshot } from '../../core/protocol/messages.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { clockTime } from '../../core/time/show.ts';
import { Glyph } from '../parts/glyph.tsx';
import { useAwaySays } from './hands.ts';
import './bars.css';
import './head.css';

interface HeadProps {
  readonly snapshot: Snapshot | null;
  readonly view: SessionView | null;
  readonly hands: Person | null;
  /** What is wrong with the link, in words. */
  readonly trouble: string | null;
  /** Says nothing of the order, while a second person computes. */
  readonly unseeing: boolean;
}

/** Whose treatment this is, and the proof that it is on disk. */
export function Head({ snapshot, view, hands, trouble, unseeing }: HeadProps) {
  const away = useAwaySays();
  return (
    <header className="head">
      <p className="head-who">
        {view === null ? (
          <span className="head-quiet">no session</span>
        ) : (
          <>
            <span className="head-code" translate={view.patient === null ? undefined : 'no'}>
              {view.patient?.patientCode ?? 'patient not identified yet'}
            </span>
            {!unseeing && orderWords(view).map((words) => <span key={words}>{words}</span>)}
          </>
        )}
        {view !== null && !unseeing && view.regimen?.onLabel === false && <span className="tag">off label</span>}
        {(view?.practice ?? snapshot?.practice) && <span className="tag">practice: no patient</span>}
      </p>
      <p className="head-written" data-trouble={trouble !== null}>
        {trouble === null ? (
          writtenWords(snapshot, hands, away)
        ) : (
          <>
            <Glyph name="missing" /> {trouble}
          </>
        )}
      </p>
      {view !== null && !unseeing && view.offLabelReason !== null && (
        <p className="head-reason">
          off label, because:{' '}
          <span className="head-reason-words" translate="no">
            {view.offLabelReason}
          </span>
        </p>
      )}
    </header>
  );
}

function orderWords({ eyes, regimen }: SessionView): string[] {
  const [first, second] = eyes;
  const eyeWords = first === undefined ? [] : [second === undefined ? `${first} eye` : `${first} eye, then ${second}`];
  return [...eyeWords, ...(regimen === null ? [] : [regimen.name.charAt(0).toLowerCase() + regimen.name.slice(1)])];
}

function writtenWords(snapshot: Snapshot | null, hands: Person | null, away: string | null): string {
  const who = hands === null ? (away ?? 'no hands signed in') : `${hands.initials}, ${hands.role}`;
  const written = snapshot?.written;
  if (written == null) return who;
  const time = clockTime(written.wallMs, written.offsetMin, true);
  return `${snapshot?.notYetSafe == null ? `written ${time}` : `entered ${time}, not yet safe`} · ${who}`;
}
