import type { Command, CommandKind, Eye } from '../../core/procedure/commands.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import type { FormId } from './forms/form.ts';

type WayOn = NonNullable<SessionView['wayOn']>;

/** Ways on that need more than a key. */
const FORM_OF: Partial<Record<CommandKind, FormId>> = { prepare: 'prepare', 'end-flush': 'end-flush' };

const COMMAND_OF: Partial<Record<CommandKind, (eye: Eye | null) => Command | null>> = {
  'prime-line': () => ({ kind: 'prime-line' }),
  'start-pump': () => ({ kind: 'start-pump' }),
  'begin-flush': () => ({ kind: 'begin-flush' }),
  'beam-on': (eye) => (eye === null ? null : { kind: 'beam-on', eye }),
  'beam-off': () => ({ kind: 'beam-off', endedByLaser: true }),
  'end-light': () => ({ kind: 'end-light' }),
  discharge: () => ({ kind: 'discharge' }),
};

/** The form that a way on opens; null where Enter gives it at once. */
export const formOf = ({ command }: WayOn): FormId | null => FORM_OF[command as CommandKind] ?? null;

/** The command that Enter gives; null where it needs a form. */
export const commandOf = ({ command, eye }: WayOn): Command | null => COMMAND_OF[command as CommandKind]?.(eye) ?? null;
