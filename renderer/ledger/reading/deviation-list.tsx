import { useState } from 'react';
import { type FoundDeviation, ruleById } from '../../../core/ledger/deviations.ts';
import { SURE_WORDS } from '../../../core/regimen/source.ts';
import { KeyLine } from '../room/key-line.tsx';
import type { RoomKey } from '../room/room-keys.ts';
import { Row } from '../room/row.tsx';
import { useRowKeys } from '../room/row-keys.ts';

interface DeviationListProps {
  /** Null until they are known. */
  readonly deviations: readonly FoundDeviation[] | null;
  readonly onEntry: (seq: number) => void;
  readonly keys: readonly RoomKey[];
}

/** Where a session departs from its plan, each with what it is held against and where that limit comes from. */
export function DeviationList({ deviations, onEntry, keys }: DeviationListProps) {
  const [at, setAt] = useState(0);
  const rows = deviations ?? [];
  const told = useRowKeys({
    at,
    rows: rows.length,
    onAt: setAt,
    enter: {
      words: 'the entry it points at',
      does: (to) => {
        const deviation = rows[to];
        if (deviation !== undefined) onEntry(deviation.seq);
      },
    },
  });
  return (
    <>
      {deviations?.length === 0 && <p className="ledger-none">nothing departs from the plan by the limits in force</p>}
      <ol className="rows" aria-label="deviations">
        {rows.map((deviation, place) => (
          <li key={`${deviation.ruleId} ${deviation.seq} ${deviation.words}`}>
            <DeviationLine deviation={deviation} here={place === at} onOpen={() => onEntry(deviation.seq)} />
          </li>
        ))}
      </ol>
      <KeyLine keys={keys} told={told} />
    </>
  );
}

interface DeviationLineProps {
  readonly deviation: FoundDeviation;
  readonly here: boolean;
  readonly onOpen: () => void;
}

function DeviationLine({ deviation, here, onOpen }: DeviationLineProps) {
  const { ruleId, seq, words } = deviation;
  const { title, source } = ruleById(ruleId);
  return (
    <Row look="deviation-row" here={here} onPress={onOpen}>
      <span className="row-ink">{title}</span>
      <span className="row-end">entry {seq}</span>
      <span className="row-ink deviation-words">{words}</span>
      <span className="deviation-limit">{limitWords(deviation)}</span>
      <span className="deviation-source">{sourceWords(source)}</span>
    </Row>
  );
}

function limitWords({ value, limit, unit }: FoundDeviation): string {
  const amount = (number: number): string => `${Number(number.toFixed(2))}${unit === null ? '' : ` ${unit}`}`;
  const parts = [
    ...(value === null ? [] : [amount(value)]),
    ...(limit === null ? ['no limit: any is told'] : [`limit ${amount(limit)}`]),
  ];
  return parts.join(', ');
}

/** A source that names itself local practice says so once. */
function sourceWords({ text, sure }: ReturnType<typeof ruleById>['source']): string {
  const words = SURE_WORDS[sure];
  return sure === 'found' || text.startsWith(words) ? text : `${text}: ${words}`;
}
