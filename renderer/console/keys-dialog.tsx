import { useEffect, useRef } from 'react';
import { FURTHER_KEYS, KEYS, type KeyBinding } from '../../core/keys/key-table.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import './keys-dialog.css';

/** Every key, from the table that binds them. */
export function KeysDialog({ onLeave }: { onLeave: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  return (
    <dialog ref={dialog} className="keys" aria-label="keys" onClose={onLeave}>
      <h2>keys</h2>
      <dl>
        {LISTED.map((binding) => (
          <div key={binding.cap}>
            <dt>
              <KeyCap cap={binding.cap} />
            </dt>
            <dd>
              {binding.words}
              {binding.more !== undefined && <span className="keys-more"> · {binding.more}</span>}
            </dd>
          </div>
        ))}
      </dl>
      <form method="dialog">
        <button type="submit" className="form-leave">
          <KeyCap cap="Esc" /> back
        </button>
      </form>
    </dialog>
  );
}

const LISTED: readonly Pick<KeyBinding, 'cap' | 'words' | 'more'>[] = [...FURTHER_KEYS, ...KEYS];
