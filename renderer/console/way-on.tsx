import type { SessionView } from '../../core/protocol/view.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import { MissingList } from './missing-list.tsx';
import './other-keys.css';
import './way-on.css';

interface WayOnProps {
  readonly wayOn: SessionView['wayOn'];
  readonly busy: boolean;
  readonly onPress: () => void;
  readonly onOverride: () => void;
}

/** The one line that Enter confirms. Closed, it keeps its place, and above it stands what it waits for. */
export function WayOn({ wayOn, busy, onPress, onOverride }: WayOnProps) {
  if (wayOn === null) return null;
  const open = wayOn.open && !busy;
  return (
    <section className="way-on-place" aria-label="the way on">
      {!wayOn.open && <MissingList missing={wayOn.missing} />}
      {wayOn.withReason && (
        <button type="button" className="other-key way-on-override" onClick={onOverride}>
          <KeyCap cap="E" />
          <span>go on with a reason, as a deviation</span>
        </button>
      )}
      <button type="button" className="way-on" data-open={open} aria-disabled={!open} onClick={onPress}>
        <span>{wayOn.words}</span>
        <KeyCap cap="Enter" calling={open} />
      </button>
    </section>
  );
}
