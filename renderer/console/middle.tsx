import type { SessionView } from '../../core/protocol/view.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import { Differences } from './differences.tsx';
import { OtherKeys } from './other-keys.tsx';
import { SaidBelow } from './said-below.tsx';
import { TaskList } from './task-list.tsx';
import { OpenTroubles } from './trouble/open-troubles.tsx';
import type { Desk } from './use-desk.ts';
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
          <OpenTroubles view={view} />
          <TaskList tasks={view.tasks} onPress={desk.pressTask} />
          <Differences differences={view.state === 'planning' ? view.differences : []} />
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
