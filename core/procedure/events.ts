import type { Plan } from '../dosing/plan-schema.ts';
import type { Regimen } from '../regimen/regimens.ts';
import type { Moment } from '../time/moment.ts';
import type { Command, CommandKind, CommandOf } from './commands.ts';
import type { CueSounded, DueEvent, DueKind, Rebase, Slept } from './due.ts';
import type { Author } from './person.ts';
import type { Lesion } from './record.ts';

/**
 * What the station worked out when it wrote the entry, kept in it so that replay gives what people saw then, whatever
 * a later version would compute.
 */
export interface Found {
  readonly plan?: Plan | undefined;
  /** What was missing when a step went on with a reason. */
  readonly missing?: readonly string[] | undefined;
  readonly agrees?: boolean | undefined;
  readonly differences?: readonly Difference[] | undefined;
  /** The second computation agreed only after a difference had been shown. */
  readonly afterDifference?: boolean | undefined;
  /** The regimen as it was offered then: a site's own may be changed later. */
  readonly regimen?: Regimen | undefined;
  /** Lesions on the retina, whichever way they were measured. */
  readonly lesions?: readonly Lesion[] | undefined;
  /** What the flush brought to the patient, and what it left behind. */
  readonly deliveredMg?: number | undefined;
  readonly notDeliveredMg?: number | undefined;
  readonly says?: string | undefined;
}

/** Where two independent computations are apart. */
export interface Difference {
  readonly what: string;
  readonly first: string;
  readonly second: string;
}

type Content<K> = K extends CommandKind
  ? CommandOf<K>
  : K extends DueKind
    ? Extract<DueEvent, { kind: K }>
    : K extends 'rebase'
      ? Rebase
      : K extends 'slept'
        ? Slept
        : K extends 'cue-sounded'
          ? CueSounded
          : never;

export type EventKind = CommandKind | DueKind | 'rebase' | 'slept' | 'cue-sounded';

/** An entry as the procedure machine takes it. Time comes in on the event: the machine has no clock. */
export type SessionEvent = {
  [K in EventKind]: {
    readonly type: K;
    readonly content: Content<K>;
    readonly found: Found;
    readonly at: Moment;
    readonly by: Author;
  };
}[EventKind];

export function eventOf(
  content: Command | DueEvent | Rebase | Slept | CueSounded,
  found: Found,
  at: Moment,
  by: Author,
): SessionEvent {
  return { type: content.kind, content, found, at, by } as SessionEvent;
}
