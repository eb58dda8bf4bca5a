import { jsxDEV as drawn, Fragment } from 'react/jsx-dev-runtime';
import { inReadersWords } from './readers-words.ts';

/** As `jsx-runtime.ts`, for pages that are compiled for development. */
export const jsxDEV: typeof drawn = (type, props, ...rest) => drawn(type, inReadersWords(type, props), ...rest);

// The compiler looks for these two beside the function.
export type { JSX } from 'react/jsx-runtime';
export { Fragment };
