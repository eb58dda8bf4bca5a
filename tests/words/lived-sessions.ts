import type { Command, CommandOf } from '../../core/procedure/commands.ts';
import { CUE_IDS } from '../../core/procedure/cue-table.ts';
import { eventOf } from '../../core/procedure/events.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { SCREENING } from '../../core/procedure/screening.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import { TROUBLE } from '../../core/procedure/trouble.ts';
import { REGIMENS } from '../../core/regimen/regimens.ts';
import type { Settings } from '../../core/settings/settings.ts';
import {
  ALL_NO,
  after,
  atOf,
  beamOff,
  beamOn,
  courseOf,
  discharged,
  flushing,
  give,
  held,
  inAfterCare,
  infusing,
  instead,
  LEFT,
  momentAt,
  ONE_EYE,
  OPENED_AT_MS,
  OPERATOR,
  opened,
  orderOf,
  planned,
  play,
  prepared,
  primed,
  RIGHT,
  readyFor,
  ring,
  SECOND_NURSE,
  settingsFor,
  stepsBefore,
  stopped,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

/** A session and the instants at which somebody looks at it. */
export interface Lived {
  readonly session: Session;
  readonly atMs: readonly number[];
}

const HOUR_MS = 3_600_000;
const BODY = { heightCm: 168, weightKg: 71.5 } as const;

/** Sessions that between them say whatever the procedure has to say, on every way that a treatment can take. */
export function livedSessions(): Lived[] {
  return [
    ...everyStep(ONE_EYE),
    ...everyStep(TWO_EYES),
    ...everyStep(courseOf([LEFT, RIGHT])),
    ...ordered(),
    ...asked(),
    ...apart(),
    ...troubled(),
    ...slept(),
    ...lit(),
    ...late(),
  ];
}

const look = (session: Session, ...atMs: number[]): Lived => ({ session, atMs });

/** Before and after every step of a course. */
function everyStep(steps: typeof ONE_EYE): Lived[] {
  return steps.map(({ atMs }, index) => look(play(steps.slice(0, index + 1)), atMs + 1000, atMs + 20_000));
}

/** Every regimen, with lesions at the edge of what is possible. */
function ordered(): Lived[] {
  const near = { ...RIGHT, discDistanceUm: 300 };
  const over = { ...LEFT, gldUm: 6_500, discDistanceUm: 900 };
  const regimens = REGIMENS.flatMap(({ id }) => [planned(courseOf([RIGHT], id)), planned(courseOf([near, over], id))]);
  const camera = { kind: 'order', regimenId: 'label', orderedBy: 'the ordering physician' } as const;
  const image = { eye: 'right', imageMm: 9, cameraMagnification: 3 } as const;
  const bodies = [
    { heightCm: 205, weightKg: 180 },
    { heightCm: 190, weightKg: 140 },
    { heightCm: 200, weightKg: 112 },
  ].map((body): Command => ({ kind: 'measure', ...body, asked: ['unusual'] }));
  const started = stepsBefore('measure');
  return [
    ...regimens.map((session) => look(session, atOf('prepare'))),
    ...bodies.map((body) => look(give(play(started), body, atOf('measure')), atOf('second-check'))),
    look(give(readyFor('order'), { ...camera, lesions: [image] }, atOf('order')), atOf('screen')),
    look(give(readyFor('measure'), { ...camera, lesions: [image] }, atOf('measure')), atOf('measure')),
  ].concat(...bothEyes());
}

/** Both eyes, by either product text, with and without a decision. */
function bothEyes(): Lived[] {
  const earlier = ['none', 'tolerated', 'not tolerated', undefined] as const;
  const profiles: readonly Settings['profile'][] = ['us', 'eu'];
  const bare: CommandOf<'order'> = {
    kind: 'order',
    regimenId: 'label',
    lesions: [RIGHT, LEFT],
    orderedBy: 'the physician',
  };
  return profiles.flatMap((profile) =>
    earlier.map((earlierTreatment) => {
      const order: Command = earlierTreatment === undefined ? bare : { ...bare, earlierTreatment };
      return look(give(opened({ profile }), order, OPENED_AT_MS + 40_000), OPENED_AT_MS + 50_000);
    }),
  );
}

/** Each screening question answered yes, by either product text, alone and with another. */
function asked(): Lived[] {
  const profiles: readonly Settings['profile'][] = ['us', 'eu'];
  return profiles.flatMap((profile) =>
    SCREENING.map(({ id }, index) => {
      const next = SCREENING[(index + 1) % SCREENING.length]?.id ?? id;
      const answers = { ...ALL_NO, [id]: 'yes', [next]: 'yes' } as typeof ALL_NO;
      return look(give(opened({ profile }), { kind: 'screen', answers }, OPENED_AT_MS + 40_000), OPENED_AT_MS + 50_000);
    }),
  );
}

/** Two people who come to different figures, and agree later. */
function apart(): Lived[] {
  const check: CommandOf<'second-check'> = { kind: 'second-check', ...BODY, regimenId: 'label', lesions: [RIGHT] };
  const others: Command[] = [
    { ...check, heightCm: 158.5 },
    { ...check, weightKg: 81.5 },
    { ...check, regimenId: 'half-dose-15' },
    { ...check, lesions: [LEFT] },
    { ...check, lesions: [RIGHT, LEFT] },
    { ...check, lesions: [{ ...RIGHT, discDistanceUm: 700 }] },
    { ...check, lesions: [LEFT, { ...RIGHT, discDistanceUm: 700 }], heightCm: 150 },
  ];
  const atMs = atOf('second-check');
  return others.flatMap((other) => {
    const differs = give(readyFor('second-check'), other, atMs, SECOND_NURSE);
    return [look(differs, atMs + 1000), look(give(differs, check, atMs + 5000, SECOND_NURSE), atMs + 6000)];
  });
}

/** Each card of trouble, where it may be met, told of and not. */
function troubled(): Lived[] {
  const places: readonly (readonly [Session, number])[] = [
    [infusing(), T0_AT_MS + 60_000],
    [flushing(), T0_AT_MS + 610_000],
    [waiting(), T0_AT_MS + 700_000],
    [beamOn(), T0_AT_MS + 910_000],
    [inAfterCare(), T0_AT_MS + 1_160_000],
  ];
  return places.flatMap(([session, atMs]) =>
    TROUBLE.filter(({ states }) => states.some((state) => session.matches(state as never))).flatMap(({ id }) => {
      const met = give(session, { kind: 'trouble', card: id }, atMs);
      const told = give(met, { kind: 'trouble-told', card: id, words: 'all was done' }, atMs + 5000);
      return [look(met, atMs + 1000), look(told, atMs + 6000), look(stopped(met, atMs + 2000), atMs + 3000)];
    }),
  );
}

/** The machine slept, during the infusion and during the light. */
function slept(): Lived[] {
  return [infusing(), flushing(), waiting(), beamOn()].flatMap((session) => {
    const atMs = T0_AT_MS + 920_000;
    const event = eventOf({ kind: 'slept', sleptMs: 95_000, byWallMs: 95_000 }, {}, momentAt(atMs), STATION_AUTHOR);
    const woken = sessionAfter(ring(session, atMs), event);
    return woken === null ? [] : [look(woken, atMs + 1000)];
  });
}

/** Lasers that show something else than was planned, light too early, held, in the other eye. */
function lit(): Lived[] {
  const seen = settingsFor(RIGHT);
  const { irradianceMwPerCm2: _shown, ...bare } = seen;
  const shown: Command[] = [
    { ...seen, lensFactor: 1.3 },
    { ...seen, setSpotUm: 2_000 },
    { ...seen, irradianceMwPerCm2: 500 },
    { ...seen, irradianceMwPerCm2: 700, exposureS: 90.5 },
    { ...seen, laserLensFactor: 1.3 },
    { ...bare, powerMw: 61.1 },
    { ...bare, powerMw: 90 },
  ];
  const atMs = atOf('read-back:right');
  const override = { reason: 'the physician decides so' };
  const offMs = T0_AT_MS + 930_000;
  const heldLight = [ONE_EYE, TWO_EYES].map((steps) =>
    give(beamOn(steps), { kind: 'beam-off', endedByLaser: false }, offMs, OPERATOR),
  );
  const tooEarly = give(infusing(), { kind: 'hold', reason: 'pump' }, T0_AT_MS + 60_000);
  return [
    ...shown.map((command) =>
      look(give(readyFor('read-back:right'), command, atMs, OPERATOR), atMs + 1000, T0_AT_MS + 905_000),
    ),
    ...heldLight.map((session) => look(session, offMs + 1000, offMs + 400_000)),
    ...heldLight.map((session) =>
      look(give(session, { kind: 'end-light', override }, offMs + 5000, OPERATOR), offMs + 6000),
    ),
    look(
      give(waiting(TWO_EYES), { kind: 'beam-on', eye: 'left', override }, T0_AT_MS + 800_000, OPERATOR),
      T0_AT_MS + 801_000,
    ),
    look(beamOn(), T0_AT_MS + 1_050_000),
    look(tooEarly, T0_AT_MS + 70_000),
  ];
}

/** Everything past its time, and everything stopped. */
function late(): Lived[] {
  const sessions: readonly Session[] = [
    opened(),
    planned(),
    prepared(),
    primed(),
    infusing(),
    infusing(TWO_EYES),
    held(),
    flushing(),
    waiting(),
    waiting(TWO_EYES),
    beamOn(),
    beamOn(TWO_EYES),
    beamOff(TWO_EYES),
    inAfterCare(),
    discharged(),
  ];
  const setBack = give(infusing(), { kind: 'set-back', agoS: 8 }, T0_AT_MS + 30_000);
  const short = play(
    instead('end-flush', { kind: 'end-flush', flushMl: 3, override: { reason: 'no more was there' } }).slice(0, 22),
  );
  const expired = instead('drug', { kind: 'drug', lot: 'A1027', expires: '2030-01-31' });
  const other = give(infusing(), { kind: 'hold', reason: 'extravasation' }, T0_AT_MS + 60_000);
  return [
    ...sessions.map((session) => look(session, T0_AT_MS + 1_300_000, T0_AT_MS + 5 * HOUR_MS)),
    ...sessions
      .filter((session) => !session.matches('discharged'))
      .map((session) => look(stopped(session, T0_AT_MS + 1_400_000), T0_AT_MS + 1_401_000)),
    look(setBack, T0_AT_MS + 31_000),
    look(short, T0_AT_MS + 700_000),
    look(play(stepsBefore('prime-line', expired)), atOf('prime-line')),
    look(other, T0_AT_MS + 61_000),
    look(after('line', instead('line', { kind: 'line', lineMl: 1.5, primedWith: 'drug' })), atOf('filter')),
  ];
}

/** Commands beside those of a course, which something may refuse in words of its own. */
export const UNUSUAL: readonly Command[] = [
  ...TROUBLE.map(({ id }): Command => ({ kind: 'trouble', card: id })),
  ...CUE_IDS.map((cue): Command => ({ kind: 'cue-heard', cue })),
  { kind: 'set-back', agoS: 250 },
  { kind: 'beam-set-back', edge: 'on', agoS: 250 },
  { kind: 'beam-set-back', edge: 'on', agoS: 110 },
  { kind: 'beam-set-back', edge: 'off', agoS: 100 },
  { kind: 'measure', heightCm: 168, weightKg: 158 },
  { kind: 'measure', heightCm: 168, weightKg: 32 },
  { kind: 'measure', heightCm: 66, weightKg: 71.5 },
  { kind: 'measure', heightCm: 120, weightKg: 240 },
  { ...orderOf([RIGHT], 'label'), regimenId: 'half-fluence' },
  { kind: 'read-back', eye: 'right', lensFactor: 1.5, laserLensFactor: 1.5, setSpotUm: 2400, exposureS: 83 },
  { kind: 'end-flush', flushMl: 3 },
];
