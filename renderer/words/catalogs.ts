import de from '../../assets/words/de.json';
import es from '../../assets/words/es.json';
import fr from '../../assets/words/fr.json';
import type { Language } from '../../core/settings/language.ts';
import type { Catalog } from '../../core/words/phrasebook.ts';

/** What each language has for the English sentences of the screens. */
export const CATALOGS: Readonly<Record<Exclude<Language, 'en'>, Catalog>> = { de, es, fr };
