import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { eventOf } from '../../core/procedure/events.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { type SessionView, sessionViewSchema } from '../../core/protocol/view.ts';
import {
  ALL_NO,
  atOf,
  beamOn,
  courseOf,
  after as doneTo,
  flushing,
  give,
  held,
  inAfterCare,
  infusing,
  instead,
  momentAt,
  NURSE,
  OPERATOR,
  OTHER_WEIGHT,
  opened,
  orderOf,
  planned,
  play,
  prepared,
  RIGHT,
  readyFor,
  SECOND_NURSE,
  stopped,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

const viewAt = (session: Session, atMs: number): SessionView => viewOf(session.context, 7, momentAt(atMs));
const fromT0 = (seconds: number): number => T0_AT_MS + seconds * 1000;
const ON_AT_MS = atOf('beam-on:right');

test('at every step of a treatment the screens can read what they are sent', () => {
  let session = opened();
  for (const step of TWO_EYES) {
    session = play([step], session);
    const view = viewAt(session, step.atMs + 1000);
    expect(sessionViewSchema.parse(view)).toEqual(view);
  }
});

test('a session just opened has nothing to show, and no timer runs', () => {
  const view = viewAt(opened(), atOf('identify') - 1000);
  expect(sessionViewSchema.parse(view)).toEqual(view);
  expect(view).toMatchObject({
    ...{ patient: null, regimen: null, orderedBy: null, offLabelReason: null, eyes: [], plan: null, differences: [] },
    ...{ doses: null, line: null, course: null, timers: [], cues: [], hushable: [], troubles: [], deviations: [] },
    ...{ drugUseByWallMs: null, lightCareUntilWallMs: null, cautions: [], notes: 0, stopped: null },
  });
});

describe('the screens are told', () => {
  test('of patient, regimen and line what was entered, without by whom', () => {
    const view = viewAt(doneTo('line'), atOf('filter'));
    expect(view.patient).toEqual({ patientCode: 'K-2041', birthDate: '1951-03-02' });
    expect(view.regimen).toEqual({
      id: 'label',
      name: 'Label: full dose, full fluence',
      onLabel: true,
      lightStartMin: 15,
    });
    expect(view.line).toEqual({ lineMl: 1.5, primedWith: 'diluent' });
  });

  test('why a regimen off the label was ordered', () => {
    const view = viewAt(planned(courseOf([RIGHT], 'half-dose-15')), atOf('prepare'));
    expect(view.offLabelReason).toBe('chronic disease, half of the drug is enough');
  });

  test('each state that was reached, when and by whom', () => {
    const { reached } = viewAt(prepared(), atOf('drug'));
    expect(reached.map(({ state }) => state)).toEqual(['planning', 'prepared']);
    expect(reached[1]).toMatchObject({ by: NURSE, atMs: atOf('prepare') });
  });

  test('what went on with a reason', () => {
    const reasoned = { kind: 'begin-flush', override: { reason: 'the pump stopped by itself' } } as const;
    const { deviations } = viewAt(give(infusing(), reasoned, fromT0(500)), fromT0(501));
    expect(deviations).toMatchObject([
      { words: 'the pump has not reached its end', reason: 'the pump stopped by itself', atMs: fromT0(500) },
    ]);
  });

  test('why a session was stopped', () => {
    expect(viewAt(stopped(infusing(), fromT0(60)), fromT0(61)).stopped).toBe('the physician stops the treatment');
  });

  test('what was ordered, where a session was stopped before a second person computed it', () => {
    const session = stopped(readyFor('second-check'), atOf('second-check'));
    expect(viewAt(session, atOf('second-check'))).toMatchObject({ regimen: { id: 'label' }, eyes: ['right'] });
    expect(viewAt(readyFor('second-check'), atOf('second-check'))).toMatchObject({ regimen: null, eyes: [] });
  });

  test('each trouble that was met, with its card, and what was done about it once that is entered', () => {
    const met = give(infusing(), { kind: 'trouble', card: 'pain' }, fromT0(60));
    const [waits] = viewAt(met, fromT0(61)).troubles;
    expect(waits).toMatchObject({ by: NURSE, atMs: fromT0(60), told: null, card: { id: 'pain' } });
    const told = give(met, { kind: 'trouble-told', card: 'pain', words: 'gone after a minute' }, fromT0(120));
    expect(viewAt(told, fromT0(121)).troubles).toEqual([{ ...waits, told: 'gone after a minute' }]);
    expect(viewAt(infusing(), fromT0(60)).troubleCards).toContainEqual(waits?.card);
    expect(waits?.card.steps).toContain('stop the pump; look at the vein for swelling');
  });

  test('where two computations are apart', () => {
    const session = give(readyFor('second-check'), OTHER_WEIGHT, atOf('second-check'), SECOND_NURSE);
    const [weight] = viewAt(session, atOf('prepare')).differences;
    expect(weight).toEqual({ what: 'weight, kg', first: '71.5', second: '81.5' });
    expect(viewAt(planned(), atOf('prepare')).differences).toEqual([]);
  });
});

describe('the course, as the screens draw it,', () => {
  const courseAt = (session: Session, atMs: number) => {
    const { course } = viewAt(session, atMs);
    if (course === null) throw new Error('no course before the pump');
    return course;
  };

  test('is held only while a hold lasts: neither while the pump runs nor once it is off', () => {
    expect(courseAt(infusing(), fromT0(100)).held).toBe(false);
    expect(courseAt(held(), fromT0(130)).held).toBe(true);
    expect(courseAt(flushing(), fromT0(610)).held).toBe(false);
  });

  test('has every hold, with its reason and its end', () => {
    const hold = { heldAtMs: fromT0(120), reason: 'pain', resumedAtMs: null };
    expect(courseAt(held(), fromT0(130)).holds).toEqual([hold]);
    const resumed = give(held(), { kind: 'resume' }, fromT0(150));
    expect(courseAt(resumed, fromT0(160)).holds).toEqual([{ ...hold, resumedAtMs: fromT0(150) }]);
  });

  test('has the flush from its beginning, and its end once it has ended', () => {
    expect(courseAt(infusing(), fromT0(100))).toMatchObject({ flushBeganAtMs: null, flushEndedAtMs: null });
    expect(courseAt(flushing(), fromT0(610))).toMatchObject({ flushBeganAtMs: fromT0(600), flushEndedAtMs: null });
    expect(courseAt(waiting(), fromT0(700))).toMatchObject({
      flushBeganAtMs: fromT0(600),
      flushEndedAtMs: fromT0(660),
    });
  });

  test('has each stretch of light, and what was given before the one that lasts', () => {
    const off = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, ON_AT_MS + 30_000, OPERATOR);
    const first = { onAtMs: ON_AT_MS, offAtMs: ON_AT_MS + 30_000 };
    const [dark] = courseAt(off, ON_AT_MS + 40_000).exposures;
    expect(dark).toMatchObject({ beams: [first], beamOnSinceAtMs: null, deliveredBeforeMs: 30_000 });
    const on = give(off, { kind: 'beam-on', eye: 'right' }, ON_AT_MS + 50_000, OPERATOR);
    const [lit] = courseAt(on, ON_AT_MS + 60_000).exposures;
    expect(lit).toMatchObject({
      beams: [first, { onAtMs: ON_AT_MS + 50_000, offAtMs: null }],
      beamOnSinceAtMs: ON_AT_MS + 50_000,
      deliveredBeforeMs: 30_000,
    });
  });
});

describe('timers', () => {
  test('of light that is being given run to an instant, and what is left is for the screen to count', () => {
    expect(viewAt(beamOn(), ON_AT_MS + 10_000).timers.at(-1)).toMatchObject({
      name: 'exposure',
      phase: 'running',
      leftMs: null,
    });
  });

  test('that have ended stay in sight in after-care, and those that would still run do not', () => {
    const { timers } = viewAt(inAfterCare(), atOf('bracelet'));
    expect(timers.map(({ name, phase }) => [name, phase])).toEqual([
      ['infusion', 'done'],
      ['exposure', 'done'],
    ]);
  });
});

describe('whether a reason opens a command', () => {
  const opening = (session: Session, atMs: number, kind: string) => viewAt(session, atMs).commands[kind];

  test('where nothing is missing there is none to give', () => {
    expect(opening(infusing(), fromT0(100), 'hold')).toEqual({ open: true, missing: [], withReason: false });
  });

  test('where all that is missing may have happened all the same, it does', () => {
    expect(opening(infusing(), fromT0(100), 'begin-flush')).toMatchObject({ open: false, withReason: true });
  });

  test('where one thing of several is firm, it does not', () => {
    const beam = opening(beamOn(), ON_AT_MS + 90_000, 'beam-on');
    expect(beam?.missing.map(({ text }) => text)).toEqual([
      'the beam is on already',
      'the right eye has had its whole light',
    ]);
    expect(beam?.withReason).toBe(false);
  });

  test('a command of another state is firmly closed', () => {
    expect(opening(infusing(), fromT0(100), 'beam-off')).toEqual({
      open: false,
      missing: [{ text: 'possible only in: light delivery; this session is in: infusing', untilAtMs: null }],
      withReason: false,
    });
    expect(opening(infusing(), fromT0(100), 'review')?.missing[0]?.text).toBe(
      'possible only in: after-care, stopped early; this session is in: infusing',
    );
  });
});

describe('cautions', () => {
  const DIFFERED = 'The two computations differed before they agreed: look at them once more.';
  const second = (weightKg: number): Command => ({
    kind: 'second-check',
    heightCm: 168,
    weightKg,
    regimenId: 'label',
    lesions: [RIGHT],
  });
  const cautionsOf = (session: Session): string[] => viewAt(session, atOf('prepare')).cautions;
  const apart = (): Session => give(readyFor('second-check'), second(81.5), atOf('second-check'), SECOND_NURSE);

  test('a treatment as it ought to go has none', () => {
    expect(cautionsOf(planned())).toEqual([]);
  });

  test('computations that agreed at last are named, and not while they are apart', () => {
    expect(cautionsOf(apart())).toEqual([]);
    expect(cautionsOf(give(apart(), second(71.5), atOf('second-check') + 5000, SECOND_NURSE))).toEqual([DIFFERED]);
  });

  test('entered anew after a difference, they are not called agreed', () => {
    expect(cautionsOf(give(apart(), orderOf([RIGHT]), atOf('second-check') + 5000))).toEqual([]);
  });

  test('what the plan cautions of is told once a second person has computed it, and not before', () => {
    const off = courseOf([RIGHT], 'half-fluence');
    expect(cautionsOf(readyFor('second-check', [], off))).toEqual([]);
    expect(cautionsOf(planned(off)).join(' ')).toContain('off-label');
  });

  test('a site that keeps light away for less than its product text is told so first', () => {
    const answers = { ...ALL_NO, uptake: 'yes' } as const;
    const steps = instead('screen', { kind: 'screen', answers });
    const cautions = cautionsOf(play(steps.slice(0, 6), opened({ lightCareHours: 24 })));
    expect(cautions).toEqual([
      expect.stringMatching(/^light precautions: this site set 24 h, fewer than the 120 h/),
      'calcium-channel blocker, polymyxin B, or radiation therapy: uptake may be enhanced',
    ]);
  });
});

describe('a start of the machine anew', () => {
  const content = { kind: 'rebase', fromBoot: 'boot-one', toBoot: 'boot-two', shiftMs: -5000 } as const;

  test('is known from then on, and was not before', () => {
    const next = sessionAfter(infusing(), eventOf(content, {}, momentAt(fromT0(5)), STATION_AUTHOR));
    expect(next && viewOf(next.context, 1, momentAt(fromT0(5))).rebased).toBe(true);
    expect(viewOf(infusing().context, 1, momentAt(fromT0(5))).rebased).toBe(false);
  });
});

test('a session stopped before there was a dose has none to show, and nothing to caution of', () => {
  const session = stopped(opened(), atOf('identify'));
  const view = viewOf(session.context, 1, momentAt(atOf('identify')));
  expect(view).toMatchObject({ doses: null, plan: null, cautions: [] });
  expect(viewOf(inAfterCare().context, 1, momentAt(atOf('bracelet'))).doses?.notDeliveredMg).toBe(0);
});
