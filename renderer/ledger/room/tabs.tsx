import { KeyCap } from '../../parts/key-cap.tsx';
import { useRoomKeys } from './room-keys.ts';

export interface Tab<Id extends string> {
  readonly id: Id;
  readonly words: string;
}

interface TabsProps<Id extends string> {
  readonly tabs: readonly Tab<Id>[];
  readonly at: Id;
  readonly onGo: (id: Id) => void;
  /** What they are parts of. */
  readonly label: string;
}

/** Parts of something, each reached by its number. */
export function Tabs<Id extends string>({ tabs, at, onGo, label }: TabsProps<Id>) {
  useRoomKeys(
    tabs.map(({ id, words }, index) => {
      const number = String(index + 1);
      return { key: number, cap: number, words, does: () => onGo(id) };
    }),
  );
  return (
    <nav className="room-tabs" aria-label={label}>
      {tabs.map(({ id, words }, index) => (
        <button
          key={id}
          type="button"
          className="room-tab"
          aria-current={id === at ? 'page' : undefined}
          onClick={() => onGo(id)}
        >
          <KeyCap cap={String(index + 1)} /> {words}
        </button>
      ))}
    </nav>
  );
}
