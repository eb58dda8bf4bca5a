import { z } from 'zod';
import { chosenPinSchema } from '../../core/people/pin.ts';
import type { RosterPerson } from '../../core/people/roster.ts';
import { ROLES } from '../../core/procedure/person.ts';
import { peopleAsked } from '../../core/protocol/people.ts';
import type { Form, Read } from '../console/forms/form.ts';
import { faultsIn, newPinFields, pinFaults, pinField, roleFault } from '../console/forms/new-pin.ts';
import type { PeopleRequest } from '../link/people.ts';
import type { Errors, Field } from '../parts/field.ts';

const joinSchema = z.strictObject(peopleAsked['change-roster']);
const ownSchema = z.strictObject(peopleAsked['own-pin']);

const NAME: Field = { kind: 'text', name: 'name', words: 'name', letters: 80 };
const ROLE: Field = {
  kind: 'choice',
  name: 'role',
  words: 'role',
  options: ROLES.map((role) => ({ value: role, words: role })),
};
const ADMINISTERS: Field = {
  kind: 'choice',
  name: 'administers',
  words: 'administers too',
  options: [
    { value: 'yes', words: 'yes' },
    { value: 'no', words: 'no' },
  ],
  hint: 'may change roster and settings',
};
const NEW_PIN = newPinFields('PIN');

/** Somebody who joins. Their PIN is a first one: they change it themselves. */
export const joinForm: Form = {
  title: () => 'somebody joins',
  lead: () => 'The PIN is a first one, to be changed by its owner: U, then M.',
  enter: 'put on the roster',
  start: () => ({ name: '', initials: '', role: '', administers: 'no', pin: '', again: '' }),
  fields: () => [
    NAME,
    { kind: 'text', name: 'initials', words: 'initials', upper: true, letters: 4, hint: 'never anybody else’s' },
    ROLE,
    ADMINISTERS,
    ...NEW_PIN,
  ],
  read: (values) => {
    const { name, initials, role, administers, pin } = values;
    const change = { change: 'join', name, initials, role, administers: administers === 'yes' };
    const read = joinSchema.safeParse({ change, pin });
    return asked(read.success ? { type: 'change-roster', ...read.data } : null, {
      ...faultsIn(read.error, 1),
      ...roleFault(values),
      ...pinFaults(values),
    });
  },
};

/** What is known of somebody; their initials stay, since entries are known by them. */
export const describeForm = (person: RosterPerson): Form => ({
  title: () => `what is known of ${person.initials}`,
  lead: () => 'Initials stay: entries are known by them.',
  enter: 'change it',
  start: () => ({ name: person.name, role: person.role, administers: person.administers ? 'yes' : 'no' }),
  fields: () => [NAME, ROLE, ADMINISTERS],
  read: (values) => {
    const { name, role, administers } = values;
    const { personId } = person;
    const change = { change: 'describe', personId, name, role, administers: administers === 'yes' };
    const read = joinSchema.safeParse({ change });
    return asked(read.success ? { type: 'change-roster', ...read.data } : null, {
      ...faultsIn(read.error, 1),
      ...roleFault(values),
    });
  },
});

/** A new PIN for somebody who has forgotten theirs. */
export const givePinForm = (person: RosterPerson): Form => ({
  title: () => `a new PIN for ${person.initials}`,
  lead: () => 'To be changed by its owner. What wrong ones were counted is forgiven.',
  enter: 'give it',
  start: () => ({ pin: '', again: '' }),
  fields: () => NEW_PIN,
  read: (values) => {
    const { personId } = person;
    const pin = chosenPinSchema.safeParse(values.pin);
    return asked(pin.success ? { type: 'give-pin', personId, pin: pin.data } : null, pinFaults(values));
  },
});

/** One's own, against the present one. */
export const ownPinForm: Form = {
  title: () => 'your own PIN',
  enter: 'change it',
  start: () => ({ now: '', pin: '', again: '' }),
  fields: () => [pinField('now', 'PIN as it is now'), ...newPinFields('new PIN')],
  read: (values) => {
    const read = ownSchema.safeParse({ pin: values.now, newPin: values.pin });
    const now = read.error?.issues.find(({ path }) => path[0] === 'pin')?.message;
    return asked(read.success ? { type: 'own-pin', ...read.data } : null, {
      ...(now === undefined ? {} : { now }),
      ...pinFaults(values),
    });
  },
};

export const leaveForm = (person: RosterPerson): Form => ({
  title: () => (person.active ? `${person.initials} leaves` : `${person.initials} comes back`),
  lead: () =>
    person.active
      ? 'Signs in no more from now on, and is signed out everywhere. Entries stay as they are.'
      : 'Signs in again with the PIN as it was.',
  enter: person.active ? 'take off the roster' : 'put on the roster again',
  start: () => ({}),
  fields: () => [],
  read: () => {
    const change = { change: person.active ? 'leave' : 'return', personId: person.personId } as const;
    return asked({ type: 'change-roster', change }, {});
  },
});

function asked(request: PeopleRequest | null, errors: Errors): Read {
  if (request === null || Object.keys(errors).length > 0) return { ok: false, errors };
  return { ok: true, asked: { kind: 'people', request } };
}
