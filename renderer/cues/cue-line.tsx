import { type CueShown, useCueShown, useSoundTrusted } from './follow-cues.ts';
import './cue-line.css';

/** The cue that came due last, in words, for some seconds: for the eye beside the ear, on any screen. */
export function CueLine() {
  const shown = useCueShown();
  const trusted = useSoundTrusted();
  return (
    <div className="cue-line" role="status" data-trusted={trusted}>
      {shown !== null && (
        <p key={shown.at} className="cue-line-shown" data-late={shown.lateMs !== null}>
          <Mark trusted={trusted} />
          <span>{cueWords(shown)}</span>
        </p>
      )}
    </div>
  );
}

const cueWords = ({ cue, lateMs }: CueShown): string =>
  lateMs === null ? cue.words : `${lateWords(lateMs)}: ${cue.words}`;

/** How late something was sounded, for example `12 s late`. Minutes and hours are rounded down. */
export function lateWords(lateMs: number): string {
  const seconds = Math.round(lateMs / 1000);
  if (seconds < 100) return `${seconds} s late`;
  const minutes = Math.floor(seconds / 60);
  return minutes < 120 ? `${minutes} min late` : `${Math.floor(minutes / 60)} h late`;
}

/** Waves go out from a point; where nothing may be heard they are struck out. */
function Mark({ trusted }: { trusted: boolean }) {
  return (
    <svg className="cue-line-mark" viewBox="0 0 24 20" aria-hidden="true">
      <circle cx="4.5" cy="10" r="2.2" />
      <path d="M 10 5.5 A 6.6 6.6 0 0 1 10 14.5 M 14.5 2.5 A 11.4 11.4 0 0 1 14.5 17.5" />
      {!trusted && <path d="M 2 18 L 20 2" />}
    </svg>
  );
}
