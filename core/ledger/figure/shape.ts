import type { Eye } from '../../procedure/commands.ts';

/**
 * A session's procedure as it was planned and as it went: a lane for each part of it, in seconds from the pump's
 * start. Plain data, for every drawing of it and for its words alike.
 */
export interface SessionFigure {
  readonly sessionId: string;
  readonly practice: boolean;
  /** Null where no pump was started: then there is no lane, and `notes` say so. */
  readonly t0: { readonly wallMs: number; readonly offsetMin: number } | null;
  /** The span that is drawn. */
  readonly fromS: number;
  readonly toS: number;
  /** When the light window was to open, and when light began; for the arc at the head. */
  readonly windowS: number | null;
  readonly lightS: number | null;
  readonly lanes: readonly FigureLane[];
  /** What the figure cannot show, in plain words. */
  readonly notes: readonly string[];
}

export type LaneId = 'infusion' | 'flush' | 'light-window' | `exposure-${Eye}` | 'cues' | 'clock';

export interface FigureLane {
  readonly id: LaneId;
  readonly name: string;
  readonly planned: readonly FigureItem[];
  readonly actual: readonly FigureItem[];
  /** How far what went on was from the plan, in words; empty where there is nothing to compare. */
  readonly apart: string;
}

/** A span of a lane, or an instant, where `toS` equals `fromS`. */
export interface FigureItem {
  readonly kind: ItemKind;
  readonly fromS: number;
  readonly toS: number;
  /** Still going on at the last entry that was read: its end is not known. */
  readonly open: boolean;
  /** What it is, without its times. */
  readonly label: string;
}

export const SPAN_KINDS = ['planned', 'ran', 'held', 'light', 'slept'] as const;
export const MARK_KINDS = [
  'window',
  'begun',
  'limit',
  'skipped',
  'sounded',
  'late',
  'silent',
  'missing',
  're-based',
  'clock stepped',
  'zone changed',
] as const;

export type SpanKind = (typeof SPAN_KINDS)[number];
export type MarkKind = (typeof MARK_KINDS)[number];
export type ItemKind = SpanKind | MarkKind;

/** What each shape of the drawing means. */
export const KIND_WORDS: Record<ItemKind, string> = {
  planned: 'planned',
  ran: 'ran',
  held: 'held',
  light: 'light on',
  slept: 'computer slept',
  window: 'light window opens',
  begun: 'light begun',
  limit: 'second eye limit',
  skipped: 'flush not done',
  sounded: 'cue sounded',
  late: 'cue late',
  silent: 'cue silent',
  missing: 'no word of a cue',
  're-based': 'restart: times estimated',
  'clock stepped': 'wall clock stepped',
  'zone changed': 'time zone changed',
};

export const isSpan = (kind: ItemKind): kind is SpanKind => SPAN_KINDS.some((one) => one === kind);
