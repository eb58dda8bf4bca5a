import type { Language } from '../settings/language.ts';

/** A printable sheet as data: what it says, in order. How it is set is for whoever draws it. */
export interface Sheet {
  readonly fileName: string;
  readonly title: string;
  readonly size: PaperSize;
  /** Of its words; English where it is not said. */
  readonly language?: Language;
  /** Stands on every sheet of practice, and where a regimen is off label. */
  readonly marks: readonly string[];
  readonly blocks: readonly Block[];
  /** Whose sheet it is: stands at the foot of every page, with the marks, so that a loose page says so. */
  readonly foot?: string;
  /** What a scanner reads; null where nothing is to be scanned. */
  readonly code: string | null;
}

/**
 * A label of 90 by 55 mm; a label for a wristband, 100 by 30 mm; a page of A4; A4 to be taken home, as it is and in large
 * print; and A4 for the wall, in two columns, which is one page.
 */
export type PaperSize = 'label' | 'wrist' | 'page' | 'handout' | 'large handout' | 'wall';

export type Block =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'line'; readonly text: string; readonly strong?: boolean }
  | { readonly kind: 'rows'; readonly rows: readonly (readonly [what: string, value: string])[] }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  /** The one thing that matters. */
  | { readonly kind: 'big'; readonly text: string }
  /** Words with a line after them to write on. */
  | { readonly kind: 'to fill in'; readonly text: string };

/** The same sheet with each of its texts put in other words, or set in another way. */
export function withTexts(sheet: Sheet, change: (text: string) => string): Sheet {
  return {
    ...sheet,
    title: change(sheet.title),
    marks: sheet.marks.map(change),
    blocks: sheet.blocks.map((block) => blockWith(block, change)),
    ...(sheet.foot === undefined ? {} : { foot: change(sheet.foot) }),
  };
}

function blockWith(block: Block, change: (text: string) => string): Block {
  switch (block.kind) {
    case 'rows':
      return { ...block, rows: block.rows.map(([what, value]) => [change(what), change(value)] as const) };
    case 'list':
      return { ...block, items: block.items.map(change) };
    default:
      return { ...block, text: change(block.text) };
  }
}

/** A sheet that cannot be printed yet: what it waits for. */
export class NotYet extends Error {}
