import { BODY_FIELDS, EMPTY_BODY, readBody } from './body.ts';
import { figureReader } from './entries.ts';
import { lesionFields, readLesions, regimenField } from './eyes.ts';
import { type Form, readCommand } from './form.ts';
import { handsFields, readHands } from './hands.ts';

export const secondCheckForm: Form = {
  title: () => 'second computation, by other hands',
  lead: () => 'From chart and order. What was entered first is hidden until this is left.',
  enter: 'enter the second computation',
  unseeing: true,
  start: () => ({ ...EMPTY_BODY, initials: '', role: '', regimenId: '', eyes: '' }),
  fields: (values) => [...handsFields('other'), ...BODY_FIELDS, regimenField, ...lesionFields(values)],
  read: (values) => {
    const reader = figureReader();
    const { heightCm, weightKg, doubts } = readBody(values, reader);
    const lesions = readLesions(values, reader);
    const hands = readHands(values);
    const errors = { ...reader.errors, ...(hands.ok ? {} : hands.errors) };
    const { regimenId = '' } = values;
    const read = readCommand({ kind: 'second-check', heightCm, weightKg, regimenId, lesions }, errors, (path) =>
      path[0] === 'lesions' ? 'eyes' : String(path[0]),
    );
    if (!read.ok || !hands.ok || read.asked.kind !== 'command') return read;
    return { ok: true, asked: { ...read.asked, by: hands.hands }, doubts };
  },
};
