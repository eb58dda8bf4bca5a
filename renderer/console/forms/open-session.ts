import type { Form } from './form.ts';

export const openSessionForm: Form = {
  title: () => 'open a session for another patient?',
  lead: () =>
    'It comes in front, here and on the board. The session under way goes on behind it: key O goes back to it.',
  enter: 'open a session',
  start: () => ({}),
  fields: () => [],
  read: () => ({ ok: true, asked: { kind: 'open-session' } }),
};
