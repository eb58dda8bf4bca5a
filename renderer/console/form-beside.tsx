import { Glyph } from '../parts/glyph.tsx';
import type { Beside } from './forms/form.ts';

/** What stands in the right column while a form is open: where its figures come from. */
export function FormBeside({ heading, lines }: { heading: string; lines: readonly Beside[] }) {
  return (
    <aside className="right" aria-label={heading}>
      <h2 className="form-beside-heading">{heading}</h2>
      <ul className="form-beside">
        {lines.map(({ words, mark }) => (
          <li key={words} className={mark ? 'missing' : undefined}>
            {mark && <Glyph name="missing" />} <span>{words}</span>
          </li>
        ))}
      </ul>
    </aside>
  );
}
