import type { CheckId } from '../../../core/procedure/checks.ts';
import { type Command, commandSchema, type Eye } from '../../../core/procedure/commands.ts';
import type { Person } from '../../../core/procedure/person.ts';
import type { SheetName } from '../../../core/protocol/messages.ts';
import type { WhoMay } from '../../../core/protocol/people.ts';
import type { SessionView } from '../../../core/protocol/view.ts';
import type { Regimen } from '../../../core/regimen/regimens.ts';
import type { Language } from '../../../core/settings/language.ts';
import type { Settings } from '../../../core/settings/settings.ts';
import type { PeopleRequest } from '../../link/people.ts';
import type { Errors, Field, Values } from '../../parts/field.ts';
import type { Question } from './questions.ts';

export const FORM_IDS = [
  'hands',
  'first-administrator',
  'recover',
  'open-session',
  'identify',
  'order',
  'screen',
  'measure',
  'second-check',
  'prepare',
  'drug',
  'line',
  'hold',
  'looked',
  'set-back',
  'trouble-told',
  'end-flush',
  'read-back',
  'beam-set-back',
  'reactions',
  'review',
  'note',
  'deviation',
  'stop-early',
  'addendum',
  'uncheck',
  'go-on',
  'print',
] as const;
export type FormId = (typeof FORM_IDS)[number];

/** What a form is opened on. */
export interface FormContext {
  readonly view: SessionView | null;
  /** What the site decided, and every regimen it offers. */
  readonly settings: Settings;
  readonly regimens: readonly Regimen[];
  /** Who may be at the keyboard. */
  readonly whoMay: WhoMay;
  /** Time of day when it was opened. */
  readonly wallMs: number;
  readonly offsetMin: number;
  /** The eye or the check it is about. */
  readonly eye: Eye | null;
  readonly item: CheckId | null;
  /** Opened to go on although something is missing: it asks for the reason too. */
  readonly overriding: boolean;
  /** What it goes on with; null where that is the way on. */
  readonly going: Going | null;
}

/** A step beside the way on that is taken although something is missing. */
export interface Going {
  readonly command: Command;
  readonly words: string;
}

/** What a form that was filled in asks for. `by` where other hands than those at the keyboard give the command. */
export type Asked =
  | { readonly kind: 'command'; readonly command: Command; readonly by?: Person; readonly pin?: string }
  | { readonly kind: 'hands'; readonly hands: Person }
  | { readonly kind: 'people'; readonly request: PeopleRequest }
  | { readonly kind: 'open-session' }
  | { readonly kind: 'print'; readonly printing: Printing };

/** A sheet that is asked for; one for the patient says in which language, and whether in large print. */
export type Printing =
  | { readonly sheet: SheetName; readonly language?: Language; readonly largePrint?: boolean }
  | { readonly sheet: 'quick card' };

/** A line beside a form, marked where it is not to be taken on trust. */
export interface Beside {
  readonly words: string;
  readonly mark: boolean;
}

/** `questions`: to be answered before it is given. */
export type Read =
  | { readonly ok: true; readonly asked: Asked; readonly questions?: readonly Question[] }
  | { readonly ok: false; readonly errors: Errors };

/** A form as data: what it asks, what it starts with, and how what was typed is read. */
export interface Form {
  readonly title: (context: FormContext) => string;
  /** A sentence above the fields. */
  readonly lead?: (context: FormContext) => string;
  /** What Enter does, in the framed line. */
  readonly enter: string;
  readonly start: (context: FormContext) => Values;
  readonly fields: (values: Values, context: FormContext) => readonly Field[];
  readonly read: (values: Values, context: FormContext) => Read;
  /** Figures that follow from what is typed, shown below the fields. */
  readonly sums?: (values: Values, context: FormContext) => readonly (readonly [string, string])[];
  /** Lines in the right column while something is chosen here, under a heading. */
  readonly beside?: (values: Values, context: FormContext) => { heading: string; lines: readonly Beside[] } | null;
  /** A choice in this field is given at once, without Enter, where it needs nothing else. */
  readonly atOnce?: { readonly field: string; readonly unless: readonly string[] };
  /** Hides what the first person entered, while a second computes. */
  readonly unseeing?: boolean;
}

/** What was typed as a command, or what is wrong with it. `errors` are those found on the way, and go before. */
export function readCommand(
  typed: { readonly kind: Command['kind'] } & Record<string, unknown>,
  errors: Errors = {},
  fieldAt: (path: readonly PropertyKey[]) => string = (path) => String(path[0] ?? ''),
): Read {
  const read = commandSchema.safeParse(typed);
  const unread = Object.keys(errors).length > 0;
  if (read.success && !unread) return { ok: true, asked: { kind: 'command', command: read.data } };
  // What could not be read is not of its type either: that was said already, in better words.
  const issues = read.success ? [] : read.error.issues.filter(({ code }) => !unread || !OF_NO_TYPE.includes(code));
  const found = issues.map(({ path, message }) => [fieldAt(path), message] as const);
  return { ok: false, errors: { ...Object.fromEntries(found.reverse()), ...errors } };
}

/** How the schema says that a figure is none: of the wrong type, or of none of those that it may be. */
const OF_NO_TYPE: readonly string[] = ['invalid_type', 'invalid_union'];
