import type { Field, Values } from '../../parts/field.ts';
import { bothEyesFieldAt, bothEyesFields, earlierIsOpen, readBothEyes } from './both-eyes.ts';
import { figureReader } from './entries.ts';
import { lesionFields, lesionValues, readLesions } from './eyes.ts';
import { type Form, type FormContext, readCommand } from './form.ts';
import { regimenChosen, regimenField, regimenSources } from './regimen.ts';

export const orderForm: Form = {
  title: () => 'regimen, eye and lesion, as ordered',
  lead: () => 'To the disc: from the lesion’s nasal edge; empty where it is far.',
  enter: 'enter the order',
  start: ({ view }) => ({
    regimenId: view?.regimen?.id ?? '',
    orderedBy: view?.orderedBy ?? '',
    offLabelReason: view?.offLabelReason ?? '',
    ...lesionValues(view?.eyes ?? [], view?.plan?.light ?? []),
  }),
  fields: (values, context) => [
    regimenField(context),
    ...(isOffLabel(values, context) ? [offLabelField] : []),
    ...lesionFields(values),
    ...bothEyesFields(values, context),
    { kind: 'text', name: 'orderedBy', words: 'ordering physician', letters: 80 },
  ],
  read: (values, context) => {
    const reader = figureReader();
    const { regimenId = '', orderedBy = '', offLabelReason = '' } = values;
    const lesions = readLesions(values, reader);
    const reason = offLabelReason.trim();
    const offLabel = isOffLabel(values, context);
    if (offLabel && reason.length < 3) reader.wrong('offLabelReason', 'say why this is ordered off label');
    if (earlierIsOpen(values)) reader.wrong('earlierTreatment', 'choose how it went, by its number');
    const stated = offLabel ? { offLabelReason: reason } : {};
    const order = {
      kind: 'order' as const,
      regimenId,
      lesions,
      orderedBy,
      ...stated,
      ...readBothEyes(values, context),
    };
    return readCommand(order, reader.errors, fieldAt);
  },
  beside: regimenSources,
};

function fieldAt([first, second]: readonly PropertyKey[]): string {
  if (first === 'bothEyes') return bothEyesFieldAt(second);
  return first === 'lesions' ? 'eyes' : String(first);
}

const offLabelField: Field = { kind: 'text', name: 'offLabelReason', words: 'reason, off label', letters: 500 };

const isOffLabel = (values: Values, context: FormContext): boolean => regimenChosen(values, context)?.onLabel === false;
