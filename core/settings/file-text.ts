import type { Settings } from './settings.ts';

/** What the file is called, here and in the data folder. */
export const SETTINGS_FILE_NAME = 'settings.json';

/** All settings as a file that can be taken in again, here or at another station. */
export const settingsFileText = (settings: Settings): string => `${JSON.stringify(settings, null, 2)}\n`;
