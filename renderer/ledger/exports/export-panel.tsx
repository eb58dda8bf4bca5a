import { useLayoutEffect, useRef } from 'react';
import type { SessionRow } from '../../../core/protocol/finding.ts';
import { KeyCap } from '../../parts/key-cap.tsx';
import { KeyLine } from '../room/key-line.tsx';
import { type RoomKey, useRoomKeys } from '../room/room-keys.ts';
import { exportChoices } from './export-choices.ts';
import { type Exporting, useExport } from './use-export.ts';
import './exports.css';

interface ExportPanelProps {
  /** The session that is read, or that the list has led to. */
  readonly row: SessionRow | null;
  readonly onLeave: () => void;
}

/** What can be taken out of the ledger as a file, each by its number. The ledger itself stays as it is. */
export function ExportPanel({ row, onLeave }: ExportPanelProps) {
  const place = useRef<HTMLElement>(null);
  const { exporting, begin, cancel } = useExport();
  const making = exporting.stage === 'making';
  useLayoutEffect(() => place.current?.focus(), []);
  const choices = exportChoices(row).map((choice, index) => {
    const number = String(index + 1);
    const does = (): void => void (making || begin(choice));
    return { ...choice, key: number, cap: number, does };
  });
  const leave: RoomKey = making
    ? { key: 'Escape', cap: 'Esc', words: 'end it, without a file', does: cancel }
    : { key: 'Escape', cap: 'Esc', words: 'back', does: onLeave };
  useRoomKeys([...choices, leave]);
  return (
    <section ref={place} className="export-panel" aria-label="export" tabIndex={-1}>
      <h2 className="panel-title">export as a file</h2>
      <p className="panel-lead">
        A file leaves the ledger’s protection: whoever has it can read what was entered of the patient.
      </p>
      <ol className="export-choices" aria-label="what can be exported">
        {choices.map(({ cap, words, about, does }) => (
          <li key={cap}>
            <button type="button" className="export-choice" onClick={does} disabled={making}>
              <KeyCap cap={cap} /> <span className="row-ink">{words}</span> <span>{about}</span>
            </button>
          </li>
        ))}
      </ol>
      <div className="export-end" role="status">
        <Progress exporting={exporting} />
      </div>
      <KeyLine keys={[leave]} />
    </section>
  );
}

function Progress({ exporting }: { exporting: Exporting }) {
  switch (exporting.stage) {
    case 'none':
      return null;
    case 'making':
      return (
        <p className="export-making">
          making {exporting.words}
          {exporting.share !== null && `: ${Math.floor(exporting.share * 100)} %`}
        </p>
      );
    case 'made':
      return (
        <>
          <p className="row-ink">
            {exporting.fileName} is saved whole, {sizeWords(exporting.bytes)}: look where downloads are kept
          </p>
          <p className="export-hash">sha-256 {exporting.sha256}</p>
          {exporting.notes.map((note) => (
            <p key={note} className="missing">
              not in it, or only in part: {note}
            </p>
          ))}
        </>
      );
    case 'not made':
      return <p className="missing">{exporting.says}</p>;
  }
}

const sizeWords = (bytes: number): string =>
  bytes < 1_000_000 ? `${Math.max(1, Math.round(bytes / 1_000))} kB` : `${(bytes / 1_000_000).toFixed(1)} MB`;
