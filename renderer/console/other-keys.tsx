import { KEYS, type KeyBinding } from '../../core/keys/key-table.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import { isOffered } from './keys.ts';
import './other-keys.css';

interface OtherKeysProps {
  readonly view: SessionView;
  readonly onPress: (binding: KeyBinding) => void;
}

/** The other keys that are open here, beside the way on and the tasks. */
export function OtherKeys({ view, onPress }: OtherKeysProps) {
  const open = KEYS.filter((binding) => binding.place === 'here' && isOffered(binding, view) && !isTask(binding, view));
  if (open.length === 0) return null;
  return (
    <ul className="other-keys" aria-label="other keys here">
      {open.map((binding) => (
        <li key={binding.cap}>
          <button type="button" className="other-key" onClick={() => onPress(binding)}>
            <KeyCap cap={binding.cap} />
            <span>{binding.words}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}

/** Among the tasks already, under its number. */
const isTask = ({ needs }: KeyBinding, { tasks }: SessionView): boolean =>
  tasks.some(({ command }) => command === needs);
