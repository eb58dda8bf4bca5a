import { minutesSeconds } from '../../core/time/show.ts';
import './big-count.css';

interface BigCountProps {
  /** What is left; less than nothing once it is over. */
  readonly ms: number;
  /** `seconds` counts whole seconds without minutes, as an exposure is. */
  readonly unit?: 'minutes' | 'seconds';
}

/** A count in cells of one width, as large as the font size around it. */
export function BigCount({ ms, unit = 'minutes' }: BigCountProps) {
  return (
    <span className="big-count" role="timer" aria-live="off" aria-label={spoken(ms, unit)}>
      {signsOf(ms, unit).map(({ key, sign }) =>
        sign === '+' ? (
          <Plus key={key} />
        ) : sign === ':' ? (
          <Colon key={key} />
        ) : (
          <span key={key} className="big-count-digit">
            {sign}
          </span>
        ),
      )}
      {unit === 'seconds' && <span className="big-count-unit">s</span>}
    </span>
  );
}

/** Width of a count in its own font sizes: what it takes to fit it into a place. */
export function countWidthEm(ms: number, unit: 'minutes' | 'seconds'): number {
  const width = { '+': PLUS_EM, ':': COLON_EM };
  const signs = signsOf(ms, unit).map(({ sign }) => (sign === '+' || sign === ':' ? width[sign] : DIGIT_EM));
  return signs.reduce((sum, em) => sum + em, unit === 'seconds' ? 2 * UNIT_EM : 0);
}

/** As in big-count.css. */
const DIGIT_EM = 0.6;
const COLON_EM = 0.28;
const PLUS_EM = 0.54;
/** The `s` hangs at one side; both sides make room, so that the digits stay in the middle. */
const UNIT_EM = 0.18;

/** Signs keyed by their place from the right, so that a cell keeps its place as others come and go. */
function signsOf(ms: number, unit: 'minutes' | 'seconds'): { key: number; sign: string }[] {
  const { over, minutes, seconds, text } = minutesSeconds(ms);
  const digits = unit === 'seconds' ? String(minutes * 60 + seconds) : text;
  const signs = [...(over ? '+' : ''), ...digits];
  return signs.map((sign, index) => ({ key: signs.length - index, sign }));
}

function spoken(ms: number, unit: 'minutes' | 'seconds'): string {
  const { over, minutes, seconds } = minutesSeconds(ms);
  const words = unit === 'seconds' ? `${minutes * 60 + seconds} s` : `${minutes} min ${seconds} s`;
  return over ? `${words} over` : words;
}

function Colon() {
  return (
    <svg className="big-count-colon" viewBox="0 0 28 76" aria-hidden="true">
      <circle cx="14" cy="25" r="6.4" />
      <circle cx="14" cy="55" r="6.4" />
    </svg>
  );
}

function Plus() {
  return (
    <svg className="big-count-plus" viewBox="0 0 54 76" aria-hidden="true">
      <path d="M 25 19 V 63 M 3 41 H 47" />
    </svg>
  );
}
