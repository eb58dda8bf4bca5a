import type { Command } from '../../core/procedure/commands.ts';
import type { CueId } from '../../core/procedure/cue-table.ts';
import type { Person } from '../../core/procedure/person.ts';
import type { Regimen } from '../../core/regimen/regimens.ts';
import { courseOf, type LesionOnRetina, NURSE, OPERATOR } from '../session-steps.ts';

/** How one made-up session goes. Seconds count from the pump's press unless said; offsets are from what is planned. */
export interface CoursePlan {
  readonly regimen: Regimen;
  readonly lesions: LesionOnRetina[];
  readonly practice: boolean;
  readonly reconstitutedAgoS: number;
  readonly setBackS: number | null;
  readonly hold: { readonly atS: number; readonly forS: number } | null;
  readonly infusionOffsetS: number;
  readonly flushS: number;
  readonly flushMl: number;
  readonly lightOffsetS: number;
  readonly exposureOffsetS: number;
  /** Against its limit; null: as soon as it is ready. */
  readonly secondEyeOffsetS: number | null;
  /** Steps that go on with a reason although something is missing, by name. */
  readonly overridden: readonly string[];
  readonly without: readonly string[];
  readonly added: readonly Timed[];
  readonly stopAtS: number | null;
  /** The last step there is, by name: the session is left so. */
  readonly leftAfter: string | null;
  /** A cue that does not go as it ought to. */
  readonly cue: { readonly id: CueId; readonly becomes: 'late' | 'silent' | 'untold' } | null;
}

/** Something at a time: a command, or what the computer itself enters. */
export interface Timed {
  readonly name: string;
  readonly atS: number;
  readonly by: Person;
  readonly what: Command | Machine;
}

/** What happens to the computer: in the session, or in the station while the session lasts. */
export type Machine =
  | { readonly kind: 'slept'; readonly sleptMs: number; readonly byWallMs: number; readonly asleepMs: number }
  | { readonly kind: 'started-anew'; readonly shiftMs: number }
  | { readonly kind: 'clock-stepped'; readonly byMs: number }
  | { readonly kind: 'zone-changed'; readonly byMin: number };

/** When the pump's key is pressed, seconds after the session was opened. */
export const PRESSED_S = 600;

const AFTER_CARE = ['bracelet', 'sheet-given', 'reactions', 'review', 'discharge'];

/** Every step of a planned session, in order of time; `atS` counts from its opening. */
export function stepsOf(plan: CoursePlan): Timed[] {
  const times = timesOf(plan);
  const known = courseOf([...plan.lesions], plan.regimen.id).map(({ name, atMs, by, command }) => ({
    name,
    by,
    atS: times[name] ?? (atMs - 3_600_000) / 1000,
    what: commandIn(plan, name, command),
  }));
  const added = plan.added.map((one) => ({ ...one, atS: one.atS + PRESSED_S }));
  const all = [...known.filter(({ name }) => !plan.without.includes(name)), ...heldIn(plan), ...added].sort(
    (one, other) => one.atS - other.atS,
  );
  if (plan.stopAtS !== null) return stoppedAt(plan.stopAtS + PRESSED_S, all);
  const last = plan.leftAfter === null ? all.length : all.findIndex(({ name }) => name === plan.leftAfter) + 1;
  return all.slice(0, last);
}

function timesOf(plan: CoursePlan): Record<string, number> {
  const { regimen, lesions, hold, setBackS, secondEyeOffsetS } = plan;
  const t0S = PRESSED_S - (setBackS ?? 0);
  const pumpOffS = t0S + regimen.infusionMin * 60 + (hold?.forS ?? 0) + plan.infusionOffsetS;
  const flushedS = pumpOffS + plan.flushS;
  const firstOnS = t0S + regimen.lightStartMin * 60 + plan.lightOffsetS;
  const firstOffS = firstOnS + regimen.exposureS + plan.exposureOffsetS;
  const secondOnS =
    secondEyeOffsetS === null ? firstOffS + 45 : t0S + (regimen.secondEyeLimitMin ?? 0) * 60 + secondEyeOffsetS;
  const lightOffS = lesions.length > 1 ? secondOnS + regimen.exposureS + ENDED_BY_LASER_S : firstOffS;
  const [first, second] = lesions;
  return {
    'start-pump': PRESSED_S,
    'begin-flush': pumpOffS,
    'end-flush': flushedS,
    ...(first === undefined ? {} : eyeTimes(first.eye, firstOnS, firstOffS)),
    ...(second === undefined ? {} : eyeTimes(second.eye, secondOnS, lightOffS)),
    'end-light': lightOffS + 6,
    ...Object.fromEntries(AFTER_CARE.map((name, index) => [name, lightOffS + 20 + index * 15])),
  };
}

/** From the ordered seconds to the press that says so. */
export const ENDED_BY_LASER_S = 0.2;

const eyeTimes = (eye: string, onS: number, offS: number): Record<string, number> => ({
  [`read-back:${eye}`]: onS - 12,
  [`drops:${eye}`]: onS - 9,
  [`lens-on:${eye}`]: onS - 6,
  [`eye-time-out:${eye}`]: onS - 3,
  [`beam-on:${eye}`]: onS,
  [`beam-off:${eye}`]: offS,
});

function commandIn(plan: CoursePlan, name: string, command: Command): Command {
  const { irradianceMwPerCm2, exposureS } = plan.regimen;
  const override = plan.overridden.includes(name) ? { override: { reason: 'the physician says to go on' } } : {};
  switch (command.kind) {
    case 'prepare':
      return { ...command, reconstitutedAgoS: plan.reconstitutedAgoS, ...override };
    case 'read-back':
      return { ...command, irradianceMwPerCm2, exposureS };
    case 'end-flush':
      return { ...command, flushMl: plan.flushMl, ...override };
    case 'beam-off': {
      const first = name === `beam-off:${plan.lesions[0]?.eye}`;
      return { ...command, endedByLaser: !first || plan.exposureOffsetS === ENDED_BY_LASER_S };
    }
    default:
      return { ...command, ...override } as Command;
  }
}

function heldIn({ hold, setBackS }: CoursePlan): Timed[] {
  const set = {
    name: 'set-back',
    atS: PRESSED_S + 12,
    by: NURSE,
    what: { kind: 'set-back', agoS: setBackS ?? 0 },
  } as const;
  const stretch = hold === null ? [] : holdSteps(PRESSED_S + hold.atS, hold.forS);
  return [...(setBackS === null ? [] : [set]), ...stretch];
}

const holdSteps = (atS: number, forS: number): Timed[] => [
  { name: 'hold', atS, by: NURSE, what: { kind: 'hold', reason: 'pain' } },
  { name: 'resume', atS: atS + forS, by: NURSE, what: { kind: 'resume' } },
];

/** Stopped there; where drug had run, after-care follows. */
function stoppedAt(atS: number, steps: readonly Timed[]): Timed[] {
  const before = steps.filter((one) => one.atS < atS);
  const treated = before.some(({ name }) => name === 'start-pump');
  const owed = steps.filter(({ name }) => (treated ? AFTER_CARE : ['discharge']).includes(name));
  const by = before.some(({ name }) => name.startsWith('beam')) ? OPERATOR : NURSE;
  return [
    ...before,
    { name: 'stop-early', atS, by, what: { kind: 'stop-early', reason: 'the patient asks to stop' } },
    ...owed.map((one, index) => ({ ...one, atS: atS + 30 + index * 15 })),
  ];
}
