import type { Source } from '../regimen/source.ts';

/** The groups in which a person looks for a setting, in the order of their numbers. */
export const SETTING_GROUPS = [
  { id: 'dose', words: 'product text, dose' },
  { id: 'line', words: 'line, drug' },
  { id: 'limits', words: 'times, limits' },
  { id: 'cues', words: 'cues, board' },
  { id: 'language', words: 'language, zone' },
  { id: 'machine', words: 'this machine' },
] as const;

export type SettingGroupId = (typeof SETTING_GROUPS)[number]['id'];

/** From when on a changed setting is followed, in words. */
export const TAKES_WORDS = {
  'at once': 'takes effect at once',
  'next session': 'from the next session on; an open one keeps what it was opened with',
} as const;

export type Takes = keyof typeof TAKES_WORDS;

interface ChoiceWords {
  readonly words: string;
  readonly detail?: string;
}

/** A figure; where `percent`, it is kept as a share and shown times a hundred. Limits are the schema's. */
interface FigureEntry {
  readonly as: 'figure';
  readonly unit: string;
  readonly percent?: boolean;
  /** What the schema asks beside the limits, in words. */
  readonly steps?: string;
}

interface TextEntry {
  readonly as: 'text';
  /** What may be written, in words. */
  readonly allowed: string;
}

type Named<T> = T extends boolean ? 'yes' | 'no' : T extends string ? T : never;

interface ChoiceEntry<T> {
  readonly as: 'choice';
  readonly choices: Readonly<Record<Named<T>, ChoiceWords>>;
}

type EntryOf<T> = [T] extends [number]
  ? FigureEntry
  : [T] extends [boolean]
    ? ChoiceEntry<T>
    : [T] extends [string]
      ? string extends T
        ? TextEntry
        : ChoiceEntry<T>
      : never;

/** What null stands for, where a setting may be null. */
type NoneOf<T> = null extends T ? { readonly none: string } : { readonly none?: never };

/** What a setting is, for whoever is about to change it. `T` is the type of its value. */
export type Explanation<T> = {
  readonly words: string;
  readonly group: SettingGroupId;
  /** What it is for, in sentences. */
  readonly about: string;
  /** Where its default comes from. */
  readonly source: Source;
  readonly takes: Takes;
  /** How its value is entered. */
  readonly entry: EntryOf<NonNullable<T>>;
} & NoneOf<T>;

/** The same, whatever its value. */
export interface AnyExplanation extends Omit<Explanation<number>, 'entry' | 'none'> {
  readonly entry: FigureEntry | TextEntry | { readonly as: 'choice'; readonly choices: Record<string, ChoiceWords> };
  readonly none?: string;
}

/** The site decides, and nothing published bears on it. */
export const LOCAL: Source = { text: 'for the site to decide', sure: 'local' };
export const COMMON_PRACTICE: Source = { text: 'common practice, no source', sure: 'local' };
