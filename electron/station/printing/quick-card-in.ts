import { inLanguage } from '../../../core/report/in-language.ts';
import { quickCard } from '../../../core/report/quick-card.ts';
import { type Sheet, withTexts } from '../../../core/report/sheet.ts';
import type { Language } from '../../../core/settings/language.ts';
import { type Catalog, phrasebook } from '../../../core/words/phrasebook.ts';
import { keptTogether } from './kept-together.ts';

/** The card for the wall, in the language of those who work there. */
export async function quickCardIn(language: Language, made: { wallMs: number; offsetMin: number }): Promise<Sheet> {
  const card = quickCard(made);
  return withTexts(language === 'en' ? card : await translated(card, language), keptTogether);
}

async function translated(card: Sheet, language: Exclude<Language, 'en'>): Promise<Sheet> {
  const { default: catalog } = await CATALOGS[language]();
  return inLanguage(card, language, phrasebook(catalog, language));
}

/** Read when a card is first asked for: a station that starts anew is needed at once. */
const CATALOGS: Readonly<Record<Exclude<Language, 'en'>, () => Promise<{ default: Catalog }>>> = {
  de: () => import('../../../assets/words/de.json'),
  es: () => import('../../../assets/words/es.json'),
  fr: () => import('../../../assets/words/fr.json'),
};
