import { KeyCap } from '../../parts/key-cap.tsx';
import type { RoomKey } from './room-keys.ts';

/** Some keys and the words for them together. */
export type KeysTold = readonly [caps: readonly string[], words: string];

interface KeyLineProps {
  readonly keys: readonly RoomKey[];
  /** Keys that are heard elsewhere and told here, each with its words. */
  readonly told?: readonly KeysTold[];
}

/** What can be done here, each with its key; for a mouse too. */
export function KeyLine({ keys, told = [] }: KeyLineProps) {
  return (
    <p className="room-keys">
      {told.map(([caps, words]) => (
        <span key={words} className="room-key">
          {caps.map((cap) => (
            <KeyCap key={cap} cap={cap} />
          ))}{' '}
          {words}
        </span>
      ))}
      {keys.map(({ cap, words, does }) => (
        <button key={cap} type="button" className="room-key" onClick={does}>
          <KeyCap cap={cap} /> {words}
        </button>
      ))}
    </p>
  );
}
