import { useLayoutEffect, useRef } from 'react';

interface ChartProps {
  /** Draws it; drawn again whenever this is another. */
  readonly draw: () => SVGSVGElement | HTMLElement;
  /** What it shows, for whoever cannot see it; its table says the rest. */
  readonly label: string;
}

/** A chart, without the style sheet that comes with it: pages of this program take styles from their own files alone. */
export function Chart({ draw, label }: ChartProps) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const drawn = draw();
    for (const style of drawn.querySelectorAll('style')) style.remove();
    // One picture with one name: its parts have none of their own.
    for (const part of drawn.querySelectorAll('[aria-label]')) part.removeAttribute('aria-label');
    drawn.setAttribute('role', 'img');
    drawn.setAttribute('aria-label', label);
    place.current?.replaceChildren(drawn);
  }, [draw, label]);
  return <div ref={place} className="clinic-chart" />;
}
