import { BODY_FIELDS, bodySums, EMPTY_BODY, readBody } from './body.ts';
import { figureReader } from './entries.ts';
import { EMPTY_LESIONS, lesionFields, readLesions } from './eyes.ts';
import { type Form, readCommand } from './form.ts';
import { handsFields, readHands } from './hands.ts';
import { regimenField, regimenSources } from './regimen.ts';

export const secondCheckForm: Form = {
  title: () => 'second computation, by other hands',
  lead: () => 'From chart and order; what was entered first is not shown.',
  enter: 'enter the second computation',
  unseeing: true,
  start: () => ({ ...EMPTY_BODY, ...EMPTY_LESIONS, initials: '', role: '', pin: '', regimenId: '' }),
  fields: (values, context) => [
    ...handsFields('other', context.whoMay),
    ...BODY_FIELDS,
    regimenField(context),
    ...lesionFields(values),
  ],
  read: (values, { whoMay }) => {
    const reader = figureReader();
    const { questions, ...body } = readBody(values, reader);
    const lesions = readLesions(values, reader);
    const hands = readHands(values, whoMay);
    const errors = { ...reader.errors, ...(hands.ok ? {} : hands.errors) };
    const { regimenId = '' } = values;
    const read = readCommand({ kind: 'second-check', ...body, regimenId, lesions }, errors, (path) =>
      path[0] === 'lesions' ? 'eyes' : String(path[0]),
    );
    if (!read.ok || !hands.ok || read.asked.kind !== 'command') return read;
    return {
      ok: true,
      asked: { ...read.asked, by: hands.hands, ...(hands.pin === undefined ? {} : { pin: hands.pin }) },
      questions,
    };
  },
  sums: bodySums,
  beside: regimenSources,
};
