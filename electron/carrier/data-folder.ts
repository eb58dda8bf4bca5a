import envPaths from 'env-paths';

/** Where the ledger lies unless a folder is named: one place, whatever carries the screens. */
export const defaultDataFolder = (): string => envPaths('dimroom', { suffix: '' }).data;
