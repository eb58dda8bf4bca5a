import type { Field, Values } from '../../parts/field.ts';
import type { FormContext } from './form.ts';

/** Asked for beside the rest when a step is taken although something is missing. */
export const reasonField = ({ overriding }: FormContext): readonly Field[] =>
  overriding ? [{ kind: 'text', name: 'override', words: 'reason for going on', letters: 500 }] : [];

export const reasonGiven = ({ override = '' }: Values, { overriding }: FormContext) =>
  overriding ? { override: { reason: override } } : {};
