import './glyph.css';

/** Done, now, to come, missing: said by shape as well as by colour. */
export type GlyphName = 'done' | 'now' | 'to come' | 'missing' | 'ended';

/** A glyph as high as the letters beside it. */
export function Glyph({ name }: { name: GlyphName }) {
  return (
    <svg className={`glyph glyph-${name.replace(' ', '-')}`} viewBox="0 0 20 20" role="img" aria-label={name}>
      {SHAPES[name]}
    </svg>
  );
}

const SHAPES: Record<GlyphName, React.JSX.Element> = {
  done: <path d="M 3.5 10.5 L 8 15 L 16.5 4.5" />,
  now: <circle className="glyph-filled" cx="10" cy="10" r="6.5" />,
  'to come': <circle cx="10" cy="10" r="6" />,
  missing: <circle cx="10" cy="10" r="6" strokeDasharray="2.1 2.61" />,
  ended: <path d="M 4.5 4.5 H 15.5 V 15.5 H 4.5 Z" />,
};
