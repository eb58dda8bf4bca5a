import type { z } from 'zod';
import { chosenPinSchema } from '../../../core/people/pin.ts';
import type { Errors, TextField, Values } from '../../parts/field.ts';

/** Digits that nobody looking on may read. */
export const pinField = (name: string, words: string, hint?: string): TextField => ({
  kind: 'text',
  name,
  words,
  letters: 12,
  secret: true,
  ...(hint === undefined ? {} : { hint }),
});

/** A PIN to be chosen, typed twice: fields `pin` and `again`. */
export const newPinFields = (words: string): readonly TextField[] => [
  pinField('pin', words, 'six to twelve digits'),
  pinField('again', `${words} again`),
];

/** What is wrong with a PIN that is to be chosen, and with its second typing. */
export function pinFaults({ pin, again }: Values): Errors {
  const fault = chosenPinSchema.safeParse(pin).error?.issues[0]?.message;
  return {
    ...(fault === undefined ? {} : { pin: fault }),
    ...(pin === again ? {} : { again: 'not the same digits: type both again' }),
  };
}

export const roleFault = ({ role }: Values): Errors =>
  (role ?? '') === '' ? { role: 'choose the role, by its number' } : {};

/** The first fault of each field; `depth` is where in its path the field's name stands. */
export const faultsIn = (error: z.ZodError | undefined, depth = 0): Errors =>
  Object.fromEntries((error?.issues ?? []).map(({ path, message }) => [String(path[depth] ?? ''), message]).reverse());
