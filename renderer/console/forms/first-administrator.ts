import { z } from 'zod';
import { ROLES } from '../../../core/procedure/person.ts';
import { peopleAsked } from '../../../core/protocol/people.ts';
import type { Form } from './form.ts';
import { faultsIn, newPinFields, pinFaults, roleFault } from './new-pin.ts';

const schema = z.strictObject(peopleAsked['first-administrator']);

export const firstAdministratorForm: Form = {
  title: () => 'the first administrator',
  lead: () =>
    'This ledger has no roster yet. Whoever is named here may name the others, and change the settings of this site.',
  enter: 'begin the roster',
  start: () => ({ name: '', initials: '', role: '', pin: '', again: '' }),
  fields: () => [
    { kind: 'text', name: 'name', words: 'name', letters: 80 },
    { kind: 'text', name: 'initials', words: 'initials', upper: true, letters: 4, hint: 'two to four letters' },
    {
      kind: 'choice',
      name: 'role',
      words: 'role',
      options: ROLES.map((role) => ({ value: role, words: role })),
    },
    ...newPinFields('PIN'),
  ],
  read: (values) => {
    const { name, initials, role, pin } = values;
    const read = schema.safeParse({ name, initials, role, pin });
    const errors = { ...faultsIn(read.error), ...roleFault(values), ...pinFaults(values) };
    return read.success && Object.keys(errors).length === 0
      ? { ok: true, asked: { kind: 'people', request: { type: 'first-administrator', ...read.data } } }
      : { ok: false, errors };
  },
};
