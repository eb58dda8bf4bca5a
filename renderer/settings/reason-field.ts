import type { Field, Values } from '../parts/field.ts';

/** Why a setting is changed, for whoever reads the ledger later. */
export const REASON_FIELD: Field = {
  kind: 'text',
  name: 'reason',
  words: 'why',
  hint: 'may be left empty; it stands in the ledger',
  letters: 300,
};

/** What was typed as the reason; nothing where nothing was. */
export function reasonIn(values: Values): { reason?: string } {
  const reason = (values.reason ?? '').trim();
  return reason === '' ? {} : { reason };
}
