import { z } from 'zod';

/** What is known of a display, of Electron's own description of it. Sizes and places in its device-independent pixels. */
export interface SeenDisplay {
  readonly id: number;
  /** The monitor's own name, where the system tells it; else empty. */
  readonly label: string;
  /** Built into the computer. */
  readonly internal: boolean;
  readonly bounds: { readonly x: number; readonly y: number; readonly width: number; readonly height: number };
}

/** A display as it was when a window was given to it, kept to know it again at another time. */
export const keptDisplaySchema = z.strictObject({
  id: z.number(),
  label: z.string(),
  internal: z.boolean(),
  x: z.number(),
  y: z.number(),
  /** The longer and the shorter side: a display that is turned upright is still the same one. */
  longSide: z.number(),
  shortSide: z.number(),
});
export type KeptDisplay = z.infer<typeof keptDisplaySchema>;

type WindowName = 'console' | 'board';

/** Which display each window belongs on; null while nothing is known. */
export type Homes = Readonly<Record<WindowName, KeptDisplay | null>>;

export interface Placement<Display extends SeenDisplay = SeenDisplay> {
  readonly console: Display;
  /** Null where the console has the only display. */
  readonly board: Display | null;
}

/**
 * Where the two windows stand now: each on its own home where that is there, else on what is left, the console on the
 * primary display rather than on another.
 *
 * @throws RangeError where there is no display at all.
 */
export function placementOf<Display extends SeenDisplay>(
  displays: readonly Display[],
  primaryId: number,
  homes: Homes,
): Placement<Display> {
  const fromLeft = [...displays].sort((a, b) => a.bounds.x - b.bounds.x || a.bounds.y - b.bounds.y);
  const known = fromLeft.length > 1 ? recognised(fromLeft, homes) : NOTHING_KNOWN;
  const forConsole = fromLeft.filter((one) => one !== known.board);
  const onConsole = known.console ?? forConsole.find(({ id }) => id === primaryId) ?? forConsole[0];
  if (onConsole === undefined) throw new RangeError('there is no display to stand on');
  return { console: onConsole, board: known.board ?? fromLeft.find((one) => one !== onConsole) ?? null };
}

export function keptOf({ id, label, internal, bounds }: SeenDisplay): KeptDisplay {
  const { x, y, width, height } = bounds;
  return { id, label, internal, x, y, longSide: Math.max(width, height), shortSide: Math.min(width, height) };
}

const NOTHING_KNOWN = { console: null, board: null };

/** The homes that are there. A better sign is believed first, whichever window it speaks for. */
function recognised<Display extends SeenDisplay>(displays: readonly Display[], homes: Homes) {
  const found: Record<WindowName, Display | null> = { ...NOTHING_KNOWN };
  for (const alike of SIGNS) {
    for (const name of ['board', 'console'] as const) {
      const kept = homes[name];
      if (kept === null || found[name] !== null) continue;
      const free = displays.filter((one) => one !== found.console && one !== found.board);
      found[name] = free.find((one) => alike(kept, keptOf(one))) ?? null;
    }
  }
  return found;
}

type Sign = (kept: KeptDisplay, seen: KeptDisplay) => boolean;

const sameNumber: Sign = (kept, seen) => kept.id === seen.id;
const sameMonitor: Sign = (kept, seen) => kept.label === seen.label && kept.internal === seen.internal;
const sameSize: Sign = (kept, seen) => kept.longSide === seen.longSide && kept.shortSide === seen.shortSide;
const samePlace: Sign = (kept, seen) => kept.x === seen.x && kept.y === seen.y;

/**
 * What a display is known again by, best first. Its number changes on some systems with every plug or update, and on
 * some stands for whatever is on a socket: so a number alone is no sign, and none is needed where all else agrees.
 */
const SIGNS: readonly Sign[] = [
  (kept, seen) => sameNumber(kept, seen) && sameMonitor(kept, seen) && sameSize(kept, seen),
  (kept, seen) => sameNumber(kept, seen) && sameMonitor(kept, seen),
  (kept, seen) => sameMonitor(kept, seen) && sameSize(kept, seen) && samePlace(kept, seen),
  (kept, seen) => sameMonitor(kept, seen) && sameSize(kept, seen),
];
