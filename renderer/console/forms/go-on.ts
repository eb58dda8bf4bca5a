import type { Command } from '../../../core/procedure/commands.ts';
import { commandOf } from '../way-on-command.ts';
import { type Form, type FormContext, readCommand } from './form.ts';
import { reasonField, reasonGiven } from './reason.ts';

/** Goes on although something is missing, where the step needs nothing but the reason. */
export const goOnForm: Form = {
  title: ({ view, going }) => `go on with a reason: ${going?.words ?? view?.wayOn?.words ?? ''}`,
  lead: () => 'It is entered as a deviation, under your initials, with what was missing.',
  enter: 'go on, as a deviation',
  start: () => ({ override: '' }),
  fields: (_values, context) => reasonField(context),
  read: (values, context) => {
    const command = commandIn(context);
    if (command === null)
      return { ok: false, errors: { override: 'there is nothing to go on to any more: leave by Esc' } };
    return readCommand({ ...command, ...reasonGiven(values, context) });
  },
};

function commandIn({ view, going }: FormContext): Command | null {
  if (going !== null) return going.command;
  return view?.wayOn == null ? null : commandOf(view.wayOn);
}
