import { z } from 'zod';
import { peopleAsked } from '../../../core/protocol/people.ts';
import type { Errors } from '../../parts/field.ts';
import type { Form } from './form.ts';
import { pinField } from './hands.ts';

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
    pinField('pin', 'new PIN', 'six to twelve digits'),
    pinField('again', 'new PIN again'),
  ],
  read: ({ code, initials, pin, again }) => {
    const read = schema.safeParse({ code, initials, pin });
    const errors: Errors = {
      ...Object.fromEntries(
        (read.error?.issues ?? []).map(({ path, message }) => [String(path[0]), message]).reverse(),
      ),
      ...(pin === again ? {} : { again: 'not the same digits: type both again' }),
    };
    return read.success && Object.keys(errors).length === 0
      ? { ok: true, asked: { kind: 'people', request: { type: 'recover', ...read.data } } }
      : { ok: false, errors };
  },
};
