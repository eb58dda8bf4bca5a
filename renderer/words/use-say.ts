import { use } from 'react';
import { LanguageHere } from './language-here.ts';
import { say } from './say.ts';

/**
 * The words of the reader for a screen's own, for those who measure what will be seen before it is drawn. What was said
 * so is drawn with `translate="no"`, since it is in the reader's words already.
 */
export function useSay(): (text: string) => string {
  const language = use(LanguageHere);
  return (text) => say(text, language);
}
