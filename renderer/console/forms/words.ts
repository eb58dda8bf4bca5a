import type { Command } from '../../../core/procedure/commands.ts';
import type { TextField } from '../../parts/field.ts';
import { readDay } from './entries.ts';
import { type Form, readCommand } from './form.ts';

const text = (name: string, words: string, hint?: string): TextField => ({
  kind: 'text',
  name,
  words,
  letters: 500,
  ...(hint === undefined ? {} : { hint }),
});

/** A form whose fields are words alone, kept as they are typed. */
function wordsForm(
  kind: Command['kind'],
  fields: readonly TextField[],
  told: Pick<Form, 'title' | 'enter' | 'lead'>,
): Form {
  return {
    ...told,
    start: () => Object.fromEntries(fields.map(({ name }) => [name, ''])),
    fields: () => fields,
    read: (values) => readCommand({ ...values, kind }),
  };
}

export const noteForm = wordsForm('note', [text('words', 'note')], { title: () => 'note', enter: 'enter the note' });

export const deviationForm = wordsForm('deviation', [text('words', 'what happened'), text('reason', 'why')], {
  title: () => 'deviation',
  lead: () => 'What happened otherwise than planned, as it happened.',
  enter: 'enter the deviation',
});

export const addendumForm = wordsForm('addendum', [text('words', 'addendum'), text('reason', 'why it is added')], {
  title: () => 'addendum',
  lead: () => 'Added to a session that is over; nothing before it changes.',
  enter: 'enter the addendum',
});

export const reactionsForm = wordsForm(
  'reactions',
  [text('words', 'seen or told by the patient', 'also that there were none')],
  { title: () => 'reactions', enter: 'enter the reactions' },
);

export const stopEarlyForm = wordsForm('stop-early', [text('reason', 'reason')], {
  title: () => 'stop early',
  lead: ({ view }) =>
    view?.course == null
      ? 'No drug was given. The session is then closed without treatment.'
      : 'Pump off, beam off. No further drug and no further light. The drug given stays: after-care and light precautions are owed all the same. This cannot be taken back.',
  enter: 'stop early',
});

export const uncheckForm: Form = {
  title: () => 'take a confirmation back',
  lead: ({ view, item, eye }) =>
    view?.tasks.find((task) => task.item === item && task.eye === eye)?.words ?? 'confirmed before',
  enter: 'take it back',
  start: () => ({ reason: '' }),
  fields: () => [text('reason', 'reason')],
  read: ({ reason }, { item, eye }) => readCommand({ kind: 'uncheck', item, ...(eye === null ? {} : { eye }), reason }),
};

export const reviewForm: Form = {
  title: () => 'review date',
  enter: 'enter the review date',
  start: () => ({ reviewDate: '' }),
  fields: () => [{ kind: 'text', name: 'reviewDate', words: 'review on', letters: 10, hint: 'year-month-day' }],
  read: ({ reviewDate = '' }, { settings }) =>
    readCommand({ kind: 'review', reviewDate: readDay(reviewDate, { language: settings.language }) }),
};
