import { type ReactNode, useLayoutEffect } from 'react';
import { LANGUAGES, type Language } from '../../core/settings/language.ts';
import { useSnapshot } from '../link/store.ts';
import { LanguageHere } from './language-here.ts';

/** What it holds speaks the language that the site has set, and so says the page. */
export function InLanguage({ children }: { children: ReactNode }) {
  const language = useSnapshot()?.settings.language ?? kept();
  useLayoutEffect(() => {
    document.documentElement.lang = language;
    keep(language);
  }, [language]);
  return <LanguageHere value={language}>{children}</LanguageHere>;
}

const KEPT_AS = 'dimroom.language';

/** As it was last: a page that has not heard the station yet already speaks it. */
const kept = (): Language => LANGUAGES.find((language) => language === localStorage.getItem(KEPT_AS)) ?? 'en';

function keep(language: Language): void {
  try {
    localStorage.setItem(KEPT_AS, language);
  } catch {
    console.warn('the language could not be kept');
  }
}
