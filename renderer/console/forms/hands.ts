import { typedPinSchema } from '../../../core/people/pin.ts';
import { personSchema, ROLES } from '../../../core/procedure/person.ts';
import type { WhoMay } from '../../../core/protocol/people.ts';
import type { Errors, Field, Values } from '../../parts/field.ts';
import type { Form, Read } from './form.ts';
import { pinField } from './new-pin.ts';

export const handsForm: Form = {
  title: () => 'who is at the keyboard?',
  lead: ({ whoMay }) =>
    whoMay.kind === 'as typed'
      ? 'Every entry from now on is made under these initials, until other hands sign in.'
      : 'Every entry from now on is made under these initials. A forgotten PIN: an administrator gives a new one.',
  enter: 'sign in',
  start: () => ({ initials: '', role: '', pin: '' }),
  fields: (_values, { whoMay }) => handsFields('', whoMay),
  read: (values, { whoMay }): Read => {
    const read = readHands(values, whoMay);
    if (!read.ok) return read;
    const { initials } = read.hands;
    return read.pin === undefined
      ? { ok: true, asked: { kind: 'hands', hands: read.hands } }
      : { ok: true, asked: { kind: 'people', request: { type: 'sign-in', initials, pin: read.pin, as: 'hands' } } };
  },
};

/** Initials, and role or PIN, for hands at the keyboard or, with words before, for other hands. */
export const handsFields = (whose: string, whoMay: WhoMay): readonly Field[] => [
  { kind: 'text', name: 'initials', words: `${whose} initials`.trim(), upper: true, letters: 4 },
  whoMay.kind === 'as typed'
    ? {
        kind: 'choice',
        name: 'role',
        words: `${whose} role`.trim(),
        options: ROLES.filter((role) => role !== 'auditor' && role !== 'administrator').map((role) => ({
          value: role,
          words: role,
        })),
      }
    : pinField('pin', `${whose} PIN`.trim()),
];

/** Whose hands, by what was typed; `pin` where people sign in, and then their role is the roster's. */
export function readHands(values: Values, whoMay: WhoMay) {
  const initials = (values.initials ?? '').trim().toUpperCase();
  const role = whoMay.kind === 'roster' ? roleOf(initials, whoMay) : values.role;
  const read = personSchema.safeParse({ initials, role });
  const pin = whoMay.kind === 'as typed' ? undefined : (values.pin ?? '');
  const errors = { ...errorsOf(read), ...pinErrors(pin) };
  return read.success && Object.keys(errors).length === 0
    ? { ok: true as const, hands: read.data, ...(pin === undefined ? {} : { pin }) }
    : { ok: false as const, errors };
}

/** Of initials nobody has it is as good as any: the station says that they and the PIN do not belong together. */
const roleOf = (initials: string, { people }: Extract<WhoMay, { kind: 'roster' }>): string =>
  people.find((one) => one.initials === initials)?.role ?? 'nurse';

function errorsOf(read: ReturnType<typeof personSchema.safeParse>): Errors {
  const bad = new Set(read.error?.issues.map(({ path }) => path[0]));
  return {
    ...(bad.has('initials') ? { initials: 'two to four letters, for example MO' } : {}),
    ...(bad.has('role') ? { role: 'choose the role, by its number' } : {}),
  };
}

function pinErrors(pin: string | undefined): Errors {
  const issue = pin === undefined ? undefined : typedPinSchema.safeParse(pin).error?.issues[0];
  return issue === undefined ? {} : { pin: issue.message };
}
