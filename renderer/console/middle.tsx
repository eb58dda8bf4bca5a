import type { SessionView } from '../../core/protocol/view.ts';
import { Glyph } from '../parts/glyph.tsx';
import { KeyCap } from '../parts/key-cap.tsx';
import { OtherKeys } from './other-keys.tsx';
import { TaskList } from './task-list.tsx';
import type { Desk, Said } from './use-desk.ts';
import { WayOn } from './way-on.tsx';

interface MiddleProps {
  readonly view: SessionView | null;
  readonly desk: Desk;
  /** Whether the station has been heard at all. */
  readonly heard: boolean;
}

/** Where we are, what is to be done here, and the one line that goes on. */
export function Middle({ view, desk, heard }: MiddleProps) {
  return (
    <>
      <h1 className="title">{view?.stateWords ?? (heard ? 'no session' : 'waiting for the station')}</h1>
      <p className="guidance">
        {view?.guidance ?? 'Dimroom counts, reminds and records. It controls no pump and no laser.'}
      </p>
      {view !== null && (
        <>
          <TaskList tasks={view.tasks} onPress={desk.pressTask} />
          <OtherKeys view={view} onPress={desk.press} />
        </>
      )}
      <div className="dock">
        {view === null || view.state === 'discharged' ? (
          heard && <OpenSession next={view !== null} onPress={desk.goOn} />
        ) : (
          <WayOn wayOn={view.wayOn} busy={desk.busy} onPress={desk.goOn} onOverride={desk.override} />
        )}
        <SaidBelow said={desk.said} busy={desk.busy} />
      </div>
    </>
  );
}

function OpenSession({ next, onPress }: { next: boolean; onPress: () => void }) {
  return (
    <button type="button" className="way-on" data-open="true" onClick={onPress}>
      <span>{next ? 'open a session for the next patient' : 'open a session'}</span>
      <KeyCap cap="Enter" calling />
    </button>
  );
}

/** Always there, so that nothing moves when something is said. */
function SaidBelow({ said, busy }: { said: Said; busy: boolean }) {
  return (
    <div className="said" role="status">
      {busy && <p className="said-busy">writing</p>}
      {!busy &&
        said.sentences.map((sentence) => (
          <p key={sentence} className={said.refused ? 'missing' : undefined}>
            {said.refused && <Glyph name="missing" />} <span>{sentence}</span>
          </p>
        ))}
    </div>
  );
}
