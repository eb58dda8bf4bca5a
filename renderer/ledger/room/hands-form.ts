import { ROLES } from '../../../core/procedure/person.ts';
import type { Form } from '../../console/forms/form.ts';
import { handsForm } from '../../console/forms/hands.ts';

/** The same hands as at the console; here auditors have some too. */
export const roomHandsForm: Form = {
  ...handsForm,
  lead: ({ whoMay }) =>
    whoMay.kind === 'as typed'
      ? 'An addendum is made under these initials, and so is every entry of the console in this window.'
      : 'Sessions are read by nurses, physicians and auditors who are on the roster.',
  fields: (values, context) =>
    handsForm
      .fields(values, context)
      .map((field) =>
        field.kind === 'choice' ? { ...field, options: ROLES.map((role) => ({ value: role, words: role })) } : field,
      ),
};
