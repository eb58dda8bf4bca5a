import type { ReactNode } from 'react';
import { apart } from '../../core/procedure/conditions.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import { OtherKeys } from './other-keys.tsx';
import { SaidBelow } from './said-below.tsx';
import { TaskList } from './task-list.tsx';
import { OpenTroubles } from './trouble/open-troubles.tsx';
import type { Desk } from './use-desk.ts';
import { WayOn } from './way-on.tsx';
import './middle.css';

interface MiddleProps {
  readonly view: SessionView | null;
  readonly desk: Desk;
  /** Whether the station has been heard at all. */
  readonly heard: boolean;
  /** What stands above the way on beside all that. */
  readonly children?: ReactNode;
}

/** Where we are, what is to be done here, and the one line that goes on. */
export function Middle({ view: whole, desk, heard, children }: MiddleProps) {
  const view = whole && shownBesideDifferences(whole);
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
          <OtherKeys view={view} onPress={desk.press} />
        </>
      )}
      {children}
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

/** What is apart stands side by side in the right column: it is not said at length here too. */
const withoutDifferences = (sentence: string, { differences }: SessionView): string =>
  differences.length === 0 ? sentence : sentence.replace(`: ${apart(differences)}`, '');

function shownBesideDifferences(view: SessionView): SessionView {
  const { tasks, wayOn } = view;
  return {
    ...view,
    tasks: tasks.map((task) => ({ ...task, trouble: task.trouble && withoutDifferences(task.trouble, view) })),
    wayOn: wayOn && {
      ...wayOn,
      missing: wayOn.missing.map((one) => ({ ...one, text: withoutDifferences(one.text, view) })),
    },
  };
}

function OpenSession({ next, onPress }: { next: boolean; onPress: () => void }) {
  return (
    <button type="button" className="way-on" data-open="true" onClick={onPress}>
      <span>{next ? 'open a session for the next patient' : 'open a session'}</span>
      <KeyCap cap="Enter" calling />
    </button>
  );
}
