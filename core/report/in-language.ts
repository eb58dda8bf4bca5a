import type { Language } from '../settings/language.ts';
import type { Phrasebook } from '../words/phrasebook.ts';
import { type Sheet, withTexts } from './sheet.ts';

/** A sheet that was made in English, in another language. A sentence that is not found stays: English is better than none. */
export const inLanguage = (sheet: Sheet, language: Language, find: Phrasebook): Sheet => ({
  ...withTexts(sheet, (text) => find(text) ?? text),
  language,
});
