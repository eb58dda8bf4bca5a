import type { EntryView } from '../../../core/protocol/messages.ts';
import { type Form, readCommand } from '../../console/forms/form.ts';
import { addendumForm } from '../../console/forms/words.ts';

/** An addendum that is about one entry. The entry itself stays as it is. */
export const addendumTo = ({ seq, words }: Pick<EntryView, 'seq' | 'words'>): Form => ({
  ...addendumForm,
  title: () => `addendum to entry ${seq}`,
  lead: () => `“${words}” It stays as it is; what is added stands behind it, with its reason and your initials.`,
  read: (values) => readCommand({ ...values, kind: 'addendum', entrySeq: seq }),
});
