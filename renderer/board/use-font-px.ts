import { type RefObject, useLayoutEffect, useState } from 'react';

/** The font size that the style sheet gave a place, CSS pixels, as of the last drawing; null while there is no place. */
export function useFontPx(place: RefObject<HTMLElement | null>): number | null {
  const [fontPx, setFontPx] = useState<number | null>(null);
  useLayoutEffect(() => {
    const present = place.current;
    setFontPx(present === null ? null : Number.parseFloat(getComputedStyle(present).fontSize));
  });
  return fontPx;
}
