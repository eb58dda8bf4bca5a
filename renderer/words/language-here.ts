import { createContext } from 'react';
import type { Language } from '../../core/settings/language.ts';

/** The language of what is drawn below: English wherever nobody has said otherwise. */
export const LanguageHere = createContext<Language>('en');
