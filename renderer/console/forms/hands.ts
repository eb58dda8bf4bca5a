import { personSchema, ROLES } from '../../../core/procedure/person.ts';
import type { Field, Values } from '../../parts/field.ts';
import type { Form, Read } from './form.ts';

export const handsForm: Form = {
  title: () => 'who is at the keyboard?',
  lead: () => 'Every entry from now on is made under these initials, until other hands sign in.',
  enter: 'sign in',
  start: () => ({ initials: '', role: '' }),
  fields: () => handsFields(''),
  read: (values): Read => {
    const read = readHands(values);
    return read.ok ? { ok: true, asked: { kind: 'hands', hands: read.hands } } : read;
  },
};

/** Initials and role, for hands at the keyboard or, with words before, for other hands. */
export const handsFields = (whose: string): readonly Field[] => [
  { kind: 'text', name: 'initials', words: `${whose} initials`.trim(), upper: true, letters: 4 },
  {
    kind: 'choice',
    name: 'role',
    words: `${whose} role`.trim(),
    options: ROLES.filter((role) => role !== 'auditor').map((role) => ({ value: role, words: role })),
  },
];

export function readHands(values: Values) {
  const read = personSchema.safeParse({ initials: (values.initials ?? '').trim().toUpperCase(), role: values.role });
  if (read.success) return { ok: true as const, hands: read.data };
  const bad = new Set(read.error.issues.map(({ path }) => path[0]));
  return {
    ok: false as const,
    errors: {
      ...(bad.has('initials') ? { initials: 'two to four letters, for example MO' } : {}),
      ...(bad.has('role') ? { role: 'choose the role, by its number' } : {}),
    },
  };
}
