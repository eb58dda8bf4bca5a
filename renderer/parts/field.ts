/** What stands in a form's fields, as typed, by field name. */
export type Values = Readonly<Record<string, string>>;

/** What is wrong with a field and what to do, by field name. */
export type Errors = Readonly<Record<string, string>>;

export interface Option {
  readonly value: string;
  readonly words: string;
  /** In quiet letters after the words. */
  readonly detail?: string;
}

interface Named {
  readonly name: string;
  readonly words: string;
  readonly hint?: string;
}

export interface TextField extends Named {
  readonly kind: 'text';
  /** Initials and codes are typed without the shift key. */
  readonly upper?: boolean;
  readonly letters?: number;
  /** Digits that nobody looking on may read. */
  readonly secret?: boolean;
}

export interface FigureField extends Named {
  readonly kind: 'figure';
  readonly unit?: string;
  /** Units to choose from; the choice is kept under `name` with `Unit`. A letter typed chooses the unit it begins. */
  readonly units?: readonly string[];
}

export interface ChoiceField extends Named {
  readonly kind: 'choice';
  readonly options: readonly Option[];
  /** One below the other, each with its number; else in a line. */
  readonly rows?: boolean;
  /** By the first letter of its words instead of its number: where `1` is not deliberate enough. */
  readonly lettered?: boolean;
  /** Chosen by its number, it leads on to the next field. */
  readonly goesOn?: boolean;
  /** A sentence to be answered, over the whole width. */
  readonly wide?: boolean;
}

/** A question answered by `y` or `n`, which goes on to the next. */
export interface AnswerField extends Named {
  readonly kind: 'answer';
  /** What to do, once the answer asks for it. */
  readonly advice?: string;
}

/** A field of a form, as data. */
export type Field = TextField | FigureField | ChoiceField | AnswerField;

export const unitName = (name: string): string => `${name}Unit`;
