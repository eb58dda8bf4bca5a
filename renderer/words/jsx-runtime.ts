import { jsx as drawn, jsxs as drawnMany, Fragment } from 'react/jsx-runtime';
import { inReadersWords } from './readers-words.ts';

/**
 * React's own way to make elements, but what people read comes out in their language: the compiler calls this for every
 * tag (`jsxImportSource`), so that no screen has to.
 */
export const jsx: typeof drawn = (type, props, key) => drawn(type, inReadersWords(type, props), key);
export const jsxs: typeof drawnMany = (type, props, key) => drawnMany(type, inReadersWords(type, props), key);

// The compiler looks for these two beside the functions.
export type { JSX } from 'react/jsx-runtime';
export { Fragment };
