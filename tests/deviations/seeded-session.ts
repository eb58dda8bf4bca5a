import type { Command, CommandOf } from '../../core/procedure/commands.ts';
import {
  courseOf,
  LEFT,
  type LesionOnRetina,
  OPERATOR,
  RIGHT,
  SECOND_NURSE,
  type Step,
  settingsFor,
  stepsBefore,
  T0_AT_MS,
} from '../session-steps.ts';
import { ALL_SOUNDED, type CueFate, type Happening, type Lived, live, type StationNote } from './lived-session.ts';

/**
 * How a session departs from its plan; each left out goes as planned. Spans are in milliseconds and may be negative
 * where they say "against".
 */
export interface Departures {
  /** Start of the light against the opening of its window. */
  readonly lightMs?: number;
  /** Begins a second eye, so long after its limit; negative is in time. */
  readonly secondEyeMs?: number;
  /** How long the pump runs against its planned time. */
  readonly infusionMs?: number;
  readonly heldMs?: number;
  /** How long the flush takes against its 60 s. */
  readonly flushMs?: number;
  readonly flushMl?: number;
  /** From reconstitution to the end of the infusion. */
  readonly inUseMs?: number;
  /** Light given against the ordered 83 s, right eye. */
  readonly exposureMs?: number;
  /** The pump had been on so long before the press. */
  readonly pressedLateS?: number;
  readonly checkAfterDifference?: boolean;
  readonly stated?: boolean;
  /** A step that goes on without what it waits for. */
  readonly missingFilter?: boolean;
  readonly sleptMs?: number;
  readonly rebasedByMs?: number;
  /** When that was, from the pump's start: while it runs, unless said. */
  readonly rebasedAtMs?: number;
  readonly clockStepMs?: number;
  readonly zoneMin?: number;
  readonly cues?: CueFate;
}

const REASON = { override: { reason: 'the physician decides so' } };
const MEASURED = { heightCm: 168, weightKg: 71.5 };

/** What is ordered in these courses: a pump that runs 10 min, primed with diluent; light at 15 min for 83 s. */
const INFUSION_MS = 600_000;
const WINDOW_MS = 900_000;
const LIMIT_MS = 1_200_000;
const FLUSH_MS = 60_000;
const EXPOSURE_MS = 83_000;

/** A treatment that departs from its plan in these ways and no other, up to its discharge. */
export function seeded(departures: Departures = {}): Lived {
  const happenings = [...planning(departures), ...drug(departures), ...light(departures), ...afterCare(departures)];
  return live(happenings, departures.cues ?? ALL_SOUNDED, stationNotes(departures));
}

/** Those who press late press at `T0_AT_MS`; the pump had been on before. */
const t0Of = ({ pressedLateS = 0 }: Departures): number => T0_AT_MS - pressedLateS * 1000;

const pumpOffAtMs = (departures: Departures): number =>
  t0Of(departures) + INFUSION_MS + (departures.infusionMs ?? 0) + (departures.heldMs ?? 0);

const lesionsOf = ({ secondEyeMs }: Departures): LesionOnRetina[] =>
  secondEyeMs === undefined ? [RIGHT] : [RIGHT, LEFT];

function planning(departures: Departures): Happening[] {
  const { checkAfterDifference = false, missingFilter = false, inUseMs } = departures;
  const steps = stepsBefore('start-pump', courseOf(lesionsOf(departures)), missingFilter ? ['filter'] : []);
  const happenings = steps.map(({ atMs, by, command }: Step): Happening => {
    if (command.kind !== 'prepare' || inUseMs === undefined) return { atMs, by, command };
    const reconstitutedAgoS = (inUseMs - (pumpOffAtMs(departures) - atMs)) / 1000;
    return { atMs, by, command: { ...command, reconstitutedAgoS } };
  });
  if (!checkAfterDifference) return happenings;
  const wrong = secondCheck(departures, 81.5);
  return [...happenings, { atMs: T0_AT_MS - 460_000, by: SECOND_NURSE, command: wrong }];
}

const secondCheck = (departures: Departures, weightKg: number): CommandOf<'second-check'> => ({
  kind: 'second-check',
  ...MEASURED,
  weightKg,
  regimenId: 'label',
  lesions: lesionsOf(departures),
});

function drug(departures: Departures): Happening[] {
  const {
    heldMs,
    pressedLateS,
    stated,
    sleptMs,
    rebasedByMs,
    rebasedAtMs = 220_000,
    flushMl = 5,
    flushMs = 0,
    missingFilter,
  } = departures;
  const t0 = t0Of(departures);
  const offAtMs = pumpOffAtMs(departures);
  const happenings: Happening[] = [
    { atMs: T0_AT_MS, command: { kind: 'start-pump', ...(missingFilter ? REASON : {}) } },
    { atMs: offAtMs, command: { kind: 'begin-flush', ...REASON } },
    { atMs: offAtMs + FLUSH_MS + flushMs, command: { kind: 'end-flush', flushMl, ...REASON } },
  ];
  if (pressedLateS !== undefined) {
    happenings.push({ atMs: T0_AT_MS + 10_000, command: { kind: 'set-back', agoS: pressedLateS } });
  }
  if (heldMs !== undefined) {
    happenings.push({ atMs: t0 + 240_000, command: { kind: 'hold', reason: 'pain' } });
    happenings.push({ atMs: t0 + 240_000 + heldMs, command: { kind: 'resume' } });
  }
  if (stated) {
    const command: Command = { kind: 'deviation', words: 'the lamp was on', reason: 'the blind is broken' };
    happenings.push({ atMs: T0_AT_MS + 20_000, command });
  }
  if (sleptMs !== undefined) {
    happenings.push({ atMs: T0_AT_MS + 200_000, event: { kind: 'slept', sleptMs, byWallMs: sleptMs } });
    happenings.push({ atMs: T0_AT_MS + 205_000, command: { kind: 'looked', pump: 'ran on' } });
  }
  if (rebasedByMs !== undefined) {
    const event = { kind: 'rebase', fromBoot: 'boot-one', toBoot: 'boot-two', shiftMs: rebasedByMs } as const;
    happenings.push({ atMs: T0_AT_MS + rebasedAtMs, event });
  }
  return happenings;
}

function light(departures: Departures): Happening[] {
  const { lightMs = 0, exposureMs, secondEyeMs } = departures;
  const t0 = t0Of(departures);
  const onAtMs = t0 + WINDOW_MS + lightMs;
  const first = exposure(RIGHT, onAtMs, exposureMs);
  if (secondEyeMs === undefined) return first;
  return [...first, ...exposure(LEFT, t0 + LIMIT_MS + secondEyeMs, undefined)];
}

/** The laser ends by itself; where it gives other than what is ordered, a person ends it. */
function exposure(lesion: LesionOnRetina, onAtMs: number, apartMs: number | undefined): Happening[] {
  const { eye } = lesion;
  const by = OPERATOR;
  return [
    { atMs: onAtMs - 900, by, command: settingsFor(lesion) },
    { atMs: onAtMs - 800, by, command: { kind: 'check', item: 'drops', eye } },
    { atMs: onAtMs - 700, by, command: { kind: 'check', item: 'lens-on', eye } },
    { atMs: onAtMs - 600, by, command: { kind: 'check', item: 'eye-time-out', eye } },
    { atMs: onAtMs, by, command: { kind: 'beam-on', eye, ...REASON } },
    {
      atMs: onAtMs + EXPOSURE_MS + (apartMs ?? 0),
      by,
      command: { kind: 'beam-off', endedByLaser: apartMs === undefined },
    },
  ];
}

function afterCare(departures: Departures): Happening[] {
  const fromMs = t0Of(departures) + LIMIT_MS + 600_000;
  const commands: Command[] = [
    { kind: 'end-light', ...REASON },
    { kind: 'check', item: 'bracelet' },
    { kind: 'check', item: 'sheet-given' },
    { kind: 'reactions', words: 'none seen or told' },
    { kind: 'review', reviewDate: '2099-03-01' },
    { kind: 'discharge' },
  ];
  return commands.map((command, index) => ({ atMs: fromMs + index * 10_000, command }));
}

function stationNotes({ clockStepMs, zoneMin }: Departures): StationNote[] {
  const notes: StationNote[] = [];
  if (clockStepMs !== undefined) {
    notes.push({ atMs: T0_AT_MS + 30_500, kind: 'clock-stepped', payload: { byMs: clockStepMs } });
  }
  if (zoneMin !== undefined) {
    notes.push({ atMs: T0_AT_MS + 31_500, kind: 'zone-changed', payload: { fromMin: 60, toMin: 60 + zoneMin } });
  }
  return notes;
}
