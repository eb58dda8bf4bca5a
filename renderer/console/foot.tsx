import { KEYS, type KeyBinding } from '../../core/keys/key-table.ts';
import type { BoardPlace } from '../../core/protocol/bridge.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import './bars.css';
import './foot.css';

interface FootProps {
  readonly offered: (binding: KeyBinding) => boolean;
  readonly onPress: (binding: KeyBinding) => void;
  readonly boardPlace: BoardPlace | null;
  readonly sound: string | null;
}

/** The keys that are always there, and where the board is. */
export function Foot({ offered, onPress, boardPlace, sound }: FootProps) {
  return (
    <footer className="foot">
      <ul className="foot-keys" aria-label="keys">
        {KEYS.filter(({ place }) => place === 'foot').map((binding) => (
          <li key={binding.cap}>
            <button
              type="button"
              className="foot-key"
              aria-disabled={!offered(binding)}
              data-offered={offered(binding)}
              onClick={() => onPress(binding)}
            >
              <KeyCap cap={binding.cap} /> {binding.words}
            </button>
          </li>
        ))}
      </ul>
      <p className="foot-place">
        {sound !== null && <span>{sound}</span>} <span>{placeWords(boardPlace)}</span>
      </p>
    </footer>
  );
}

function placeWords(place: BoardPlace | null): string {
  if (place === null) return 'board at /board';
  return place === 'second monitor' ? 'board on second monitor' : place;
}
