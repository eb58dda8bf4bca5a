import './key-cap.css';

/** A key as it is printed on the keyboard. `calling`: the one key that goes on. */
export function KeyCap({ cap, calling = false }: { cap: string; calling?: boolean }) {
  return <kbd className={calling ? 'key-cap key-cap-calling' : 'key-cap'}>{cap}</kbd>;
}
