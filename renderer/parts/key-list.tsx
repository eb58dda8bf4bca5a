import { useLayoutEffect, useRef } from 'react';
import { KEYS_EVERYWHERE, type ToldKey } from '../../core/keys/key-table.ts';
import { LanguageHere } from '../words/language-here.ts';
import { KeyCap } from './key-cap.tsx';
import { closeKeyHelp, type KeysHere, useKeyHelp } from './key-help.ts';
import './key-list.css';

interface KeyListProps {
  /** The screen's own keys: all of them where nothing lies over them, else those that are heard all the same. */
  readonly own?: (here: KeysHere) => readonly ToldKey[];
}

/** What can be pressed now, for as long as it is asked for. */
export function KeyList({ own = () => [] }: KeyListProps) {
  const here = useKeyHelp();
  return here && <KeysDialog here={here} own={own} />;
}

function KeysDialog({ here, own }: Required<KeyListProps> & { here: KeysHere }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const others = own(here);
  useLayoutEffect(() => {
    const shown = dialog.current;
    shown?.showModal();
    // The focus goes back to where it was.
    return () => shown?.close();
  }, []);
  const closed = (): void => {
    if (dialog.current?.open === false) closeKeyHelp();
  };
  return (
    <dialog ref={dialog} className="keys" aria-label="keys" onClose={closed}>
      <h2>keys</h2>
      {here.keys.length > 0 && (
        <LanguageHere value={here.language}>
          <Keys keys={[...here.keys, ...KEYS_EVERYWHERE]} lang={here.language} />
        </LanguageHere>
      )}
      {here.keys.length > 0 && others.length > 0 && <h3>of the console, heard here too</h3>}
      {others.length > 0 && <Keys keys={others} />}
      <form method="dialog">
        <button type="submit" className="form-leave">
          <KeyCap cap="Esc" /> back
        </button>
      </form>
    </dialog>
  );
}

function Keys({ keys, lang }: { keys: readonly ToldKey[]; lang?: string }) {
  return (
    <dl lang={lang}>
      {keys.map(({ cap, words, more }) => (
        <div key={cap}>
          <dt>
            <KeyCap cap={cap} />
          </dt>
          <dd>
            {words}
            {more !== undefined && <span className="keys-more"> · {more}</span>}
          </dd>
        </div>
      ))}
    </dl>
  );
}
