import { useRef, useState } from 'react';
import type { Snapshot } from '../../core/protocol/messages.ts';
import { askAnchorSlip } from '../link/requests.ts';
import { saveFile } from '../link/save-file.ts';
import { KeyCap } from '../parts/key-cap.tsx';
import { useRoomKeys } from './room/room-keys.ts';

type Written = NonNullable<Snapshot['written']>;

/**
 * The ledger's last entry as an anchor: kept elsewhere, on paper or in another system, it shows later whether anything
 * up to it was changed or cut away.
 */
export function LedgerHead({ written }: { written: Written }) {
  const text = useRef<HTMLSpanElement>(null);
  const [said, setSaid] = useState('');
  const copy = (): void => setSaid(copied(text.current));
  const print = (): void => void printSlip().then(setSaid);
  useRoomKeys([
    { key: 'c', cap: 'C', words: 'copy it', does: copy },
    { key: 'p', cap: 'P', words: 'print it as a slip', does: print },
  ]);
  return (
    <div className="ledger-head">
      <p>
        last entry <span className="row-ink">{written.seq}</span> · anchor, to be kept elsewhere:{' '}
        <span className="ledger-hash" ref={text}>
          {written.anchor ?? 'none: the first entry cannot be read'}
        </span>
      </p>
      <p>
        <button type="button" className="room-key" onClick={copy}>
          <KeyCap cap="C" /> copy it
        </button>
        <button type="button" className="room-key" onClick={print}>
          <KeyCap cap="P" /> print it as a slip
        </button>{' '}
        <span className="row-ink" role="status">
          {said}
        </span>
      </p>
    </div>
  );
}

/** The text is marked and copied as by hand: pages of this program have no leave to write to the clipboard themselves. */
function copied(text: HTMLElement | null): string {
  const selection = getSelection();
  if (text === null || selection === null) return '';
  selection.selectAllChildren(text);
  return document.execCommand('copy') ? 'copied' : 'marked: copy it with Ctrl C';
}

async function printSlip(): Promise<string> {
  const answer = await askAnchorSlip();
  if (answer.type === 'error') return answer.says;
  saveFile(answer.fileName, answer.pdfBase64);
  return `${answer.fileName} was made`;
}
