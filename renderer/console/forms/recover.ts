import { z } from 'zod';
import { peopleAsked } from '../../../core/protocol/people.ts';
import type { Form } from './form.ts';
import { faultsIn, newPinFields, pinFaults } from './new-pin.ts';

const schema = z.strictObject(peopleAsked.recover);

export const recoverForm: Form = {
  title: () => 'a new PIN by the recovery code',
  lead: () =>
    'For an administrator who cannot sign in, with the code from the safe. It works once: the next code is then shown, to be put there in its place. Entered in the ledger.',
  enter: 'take the new PIN',
  start: () => ({ code: '', initials: '', pin: '', again: '' }),
  fields: () => [
    { kind: 'text', name: 'code', words: 'recovery code', upper: true, letters: 30 },
    { kind: 'text', name: 'initials', words: 'the administrator’s initials', upper: true, letters: 4 },
    ...newPinFields('new PIN'),
  ],
  read: (values) => {
    const { code, initials, pin } = values;
    const read = schema.safeParse({ code, initials, pin });
    const errors = { ...faultsIn(read.error), ...pinFaults(values) };
    return read.success && Object.keys(errors).length === 0
      ? { ok: true, asked: { kind: 'people', request: { type: 'recover', ...read.data } } }
      : { ok: false, errors };
  },
};
