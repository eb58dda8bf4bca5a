/** A printable sheet as data: what it says, in order. How it is set is for whoever draws it. */
export interface Sheet {
  readonly fileName: string;
  readonly title: string;
  /** A label of 90 by 55 mm, or a page of A4. */
  readonly size: 'label' | 'page';
  /** Stands on every sheet of practice, and where a regimen is off label. */
  readonly marks: readonly string[];
  readonly blocks: readonly Block[];
  /** Whose sheet it is: stands at the foot of every page, with the marks, so that a loose page says so. */
  readonly foot?: string;
  /** What a scanner reads; null where nothing is to be scanned. */
  readonly code: string | null;
}

export type Block =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'line'; readonly text: string; readonly strong?: boolean }
  | { readonly kind: 'rows'; readonly rows: readonly (readonly [what: string, value: string])[] };

/** A sheet that cannot be printed yet: what it waits for. */
export class NotYet extends Error {}
