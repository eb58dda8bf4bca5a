import type { Tab } from './tabs.tsx';

/** The parts of the ledger room, each reached by its number. */
export const PARTS = [
  { id: 'sessions', words: 'sessions' },
  { id: 'clinic', words: 'clinic' },
  { id: 'privacy', words: 'privacy' },
] as const satisfies readonly Tab<string>[];

export type PartId = (typeof PARTS)[number]['id'];
