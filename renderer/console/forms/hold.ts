import { HOLD_REASONS } from '../../../core/procedure/commands.ts';
import { type Form, readCommand } from './form.ts';

export const holdForm: Form = {
  title: () => 'hold the infusion: why?',
  lead: () => 'Stop the pump. A number holds at once. The light timer goes on.',
  enter: 'hold',
  start: () => ({ reason: '', words: '' }),
  fields: ({ reason }) => [
    {
      kind: 'choice',
      name: 'reason',
      words: 'reason',
      rows: true,
      options: HOLD_REASONS.map((value) => ({ value, words: WORDS[value] })),
    },
    ...(reason === 'other' ? [{ kind: 'text', name: 'words', words: 'in words', letters: 500 } as const] : []),
  ],
  read: ({ reason = '', words = '' }) => {
    const errors = reason === '' ? { reason: 'choose the reason, by its number' } : {};
    const told = words.trim() === '' ? {} : { words };
    return readCommand({ kind: 'hold', reason, ...told }, errors);
  },
  atOnce: { field: 'reason', unless: ['other'] },
};

const WORDS: Record<(typeof HOLD_REASONS)[number], string> = {
  extravasation: 'extravasation: it swells, or runs beside the vein',
  pain: 'pain',
  unwell: 'patient is unwell',
  pump: 'pump stopped or alarmed',
  other: 'other, in words',
};
