import { ruleById } from '../../../core/ledger/deviations.ts';
import { STATE_WORDS } from '../../../core/procedure/states.ts';
import type { SessionRow } from '../../../core/protocol/finding.ts';
import { calendarDate, clockTime } from '../../../core/time/show.ts';
import { Row } from '../room/row.tsx';

interface SessionLineProps {
  readonly row: SessionRow;
  readonly here: boolean;
  readonly onOpen: () => void;
}

/** One session in the list: whose, when, how far it came, when the light began, and where it departs from its plan. */
export function SessionLine({ row, here, onOpen }: SessionLineProps) {
  const { openedWallMs, offsetMin, patientCode, state, practice, regimen, eyes, trouble } = row;
  return (
    <Row look="session-row" here={here} onPress={onOpen}>
      <span>
        {calendarDate(openedWallMs, offsetMin)} {clockTime(openedWallMs, offsetMin)}
      </span>
      <span className="row-ink">{patientCode ?? 'no patient'}</span>
      <span>
        {STATE_WORDS[state]} {practice && <span className="practice-mark">PRACTICE</span>}
      </span>
      <span>{regimen === null ? '' : shortName(regimen.name)}</span>
      <span>{eyes.join(', ')}</span>
      <span className="row-ink row-end">{lightWords(row)}</span>
      <span className="session-deviations">{trouble === null ? deviationWords(row) : `read in part: ${trouble}`}</span>
      <span className="row-end">{row.entries === 1 ? '1 entry' : `${row.entries} entries`}</span>
    </Row>
  );
}

/** `Label: full dose, full fluence` as `label`. */
function shortName(name: string): string {
  const [short = name] = name.split(':');
  return short.charAt(0).toLowerCase() + short.slice(1);
}

/** First light against its due instant, to the second. */
function lightWords({ lightStartOffsetMs }: SessionRow): string {
  if (lightStartOffsetMs === null) return '';
  const wholeS = Math.round(Math.abs(lightStartOffsetMs) / 1000);
  if (wholeS === 0) return 'light ±0:00';
  const span = `${Math.floor(wholeS / 60)}:${String(wholeS % 60).padStart(2, '0')}`;
  return `light ${lightStartOffsetMs < 0 ? '−' : '+'}${span}`;
}

const NAMED = 3;

function deviationWords({ deviations }: SessionRow): string {
  if (deviations.length === 0) return 'no deviation';
  const titles = deviations.slice(0, NAMED).map((id) => ruleById(id).title);
  const others = deviations.length - titles.length;
  return `${titles.join(' · ')}${others > 0 ? ` · and ${others} more` : ''}`;
}
