/** What the screens may speak, by its ISO 639-1 code. */
export const LANGUAGES = ['en', 'de', 'es', 'fr'] as const;

export type Language = (typeof LANGUAGES)[number];
