import { REGIMENS } from '../../../core/regimen/regimens.ts';
import type { Field, Values } from '../../parts/field.ts';
import { figureReader } from './entries.ts';
import { eyesChosen, lesionFields, lesionName, readLesions, regimenField } from './eyes.ts';
import { type Form, readCommand } from './form.ts';

export const orderForm: Form = {
  title: () => 'regimen, eye and lesion, as ordered',
  enter: 'enter the order',
  start: ({ view }) => ({
    regimenId: view?.regimen?.id ?? '',
    eyes: eyesChosen(view?.eyes ?? []),
    orderedBy: view?.orderedBy ?? '',
    offLabelReason: '',
    ...Object.fromEntries((view?.plan?.light ?? []).map(({ eye, gldUm }) => [lesionName(eye), String(gldUm)])),
  }),
  fields: (values) => [
    regimenField,
    ...(isOffLabel(values) ? [offLabelField] : []),
    ...lesionFields(values),
    { kind: 'text', name: 'orderedBy', words: 'ordering physician', letters: 80 },
  ],
  read: (values) => {
    const reader = figureReader();
    const { regimenId = '', orderedBy = '', offLabelReason = '' } = values;
    const lesions = readLesions(values, reader);
    const reason = offLabelReason.trim();
    if (isOffLabel(values) && reason.length < 3) reader.wrong('offLabelReason', 'say why this is ordered off label');
    const stated = isOffLabel(values) ? { offLabelReason: reason } : {};
    return readCommand({ kind: 'order', regimenId, lesions, orderedBy, ...stated }, reader.errors, (path) =>
      path[0] === 'lesions' ? 'eyes' : String(path[0]),
    );
  },
};

const offLabelField: Field = { kind: 'text', name: 'offLabelReason', words: 'reason, off label', letters: 500 };

const isOffLabel = ({ regimenId }: Values): boolean => REGIMENS.some(({ id, onLabel }) => id === regimenId && !onLabel);
