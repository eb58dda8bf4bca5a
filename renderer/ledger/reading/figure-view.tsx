import { useLayoutEffect, useMemo, useRef } from 'react';
import { type FigureLook, figureOf, figureRows, figureSvg } from '../../../core/ledger/figure.ts';
import type { SessionMeasures } from '../../../core/ledger/measures.ts';
import { KeyLine } from '../room/key-line.tsx';
import type { RoomKey } from '../room/room-keys.ts';
import { SCROLL_KEYS_TOLD, useScrolling } from '../room/scrolling.ts';

/** The screen's own colours, which the style sheet turns black on white for paper. */
const LOOK: FigureLook = {
  width: 760,
  ink: 'var(--ink)',
  quiet: 'var(--quiet)',
  lamp: 'var(--lamp)',
  ground: null,
  face: 'B612, sans-serif',
};

interface FigureViewProps {
  /** Null until they are known. */
  readonly measures: SessionMeasures | null;
  readonly keys: readonly RoomKey[];
}

/** A session's course, planned and as it went: drawn, and the same as a table. */
export function FigureView({ measures, keys }: FigureViewProps) {
  const place = useScrolling();
  const figure = useMemo(() => measures && figureOf(measures), [measures]);
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is to be reached by the keyboard */}
      <section ref={place} className="figure-view" aria-label="figure of the session" tabIndex={0}>
        {figure !== null && (
          <>
            <Drawing svg={figureSvg(figure, LOOK)} />
            <FigureTable rows={figureRows(figure)} />
          </>
        )}
      </section>
      <KeyLine keys={keys} told={[SCROLL_KEYS_TOLD]} />
    </>
  );
}

/** Put in as a drawing that was read, not as markup: what it says can never become a part of the page's own. */
function Drawing({ svg }: { svg: string }) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const drawn = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    place.current?.replaceChildren(document.importNode(drawn, true));
  }, [svg]);
  return <div ref={place} className="figure-drawing" />;
}

function FigureTable({ rows }: { rows: ReturnType<typeof figureRows> }) {
  if (rows.length === 0) return null;
  return (
    <table className="figure-table">
      <caption>the same in figures, minutes and seconds from the pump’s start</caption>
      <thead>
        <tr>
          <th scope="col">part</th>
          <th scope="col">planned</th>
          <th scope="col">as it went</th>
          <th scope="col">apart</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ what, planned, actual, apart }) => (
          <tr key={`${what} ${planned} ${actual}`}>
            <th scope="row">{what}</th>
            <td>{planned}</td>
            <td>{actual}</td>
            <td>{apart}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
