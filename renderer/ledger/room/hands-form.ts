import { ROLES } from '../../../core/procedure/person.ts';
import type { Form } from '../../console/forms/form.ts';
import { handsForm } from '../../console/forms/hands.ts';

/** The same hands as at the console; here auditors have some too. */
export const roomHandsForm: Form = {
  ...handsForm,
  lead: () => 'An addendum is made under these initials, and so is every entry of the console in this window.',
  fields: (values, context) =>
    handsForm
      .fields(values, context)
      .map((field) =>
        field.kind === 'choice' ? { ...field, options: ROLES.map((role) => ({ value: role, words: role })) } : field,
      ),
};
