import { describe, expect, test } from 'vitest';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import type { SessionView } from '../../core/protocol/view.ts';
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
  momentAt,
  OPERATOR,
  planned,
  prepared,
  primed,
  RIGHT,
  readyFor,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

const viewAt = (session: Session, atMs: number): SessionView => viewOf(session.context, 42, momentAt(atMs));
const fromT0 = (seconds: number): number => T0_AT_MS + seconds * 1000;
const timer = (view: SessionView, name: string) => view.timers.find((one) => one.name === name);

describe('the board', () => {
  test.each<[string, Session, number, Partial<SessionView['board']>]>([
    ['planning', planned(), -400, { title: 'planning', main: null, second: null }],
    ['prepared', prepared(), -200, { title: 'drug made up', main: null, second: null, next: 'prime the line' }],
    ['line primed', primed(), -100, { title: 'line primed', main: null, second: null, next: 'start the pump' }],
    ['after-care', inAfterCare(), 1200, { title: 'after-care', main: null, second: null }],
    ['discharged', discharged(), 1300, { title: 'discharged', main: null, second: null }],
  ])('%s: no number', (_state, session, seconds, board) => {
    expect(viewAt(session, fromT0(seconds)).board).toMatchObject(board);
  });

  test.each<[string, Session, number, string]>([
    ['infusing', infusing(), 100, 'infusing'],
    ['held', held(), 150, 'infusion held'],
    ['flushing', flushing(), 610, 'flushing'],
    ['waiting', waiting(), 700, 'waiting for light'],
  ])('%s: the big number counts to the light window', (_state, session, seconds, title) => {
    const { board } = viewAt(session, fromT0(seconds));
    expect(board.title).toBe(title);
    expect(board.main).toEqual({
      kind: 'left',
      eye: null,
      dueAtMs: fromT0(900),
      leftMs: null,
      words: 'to the light window',
      pastWords: 'light window is open',
    });
  });

  test('while infusing the small number counts to the end of the infusion; held, it stands', () => {
    expect(viewAt(infusing(), fromT0(100)).board.second).toMatchObject({ kind: 'left', dueAtMs: fromT0(600) });
    expect(viewAt(held(), fromT0(500)).board.second).toMatchObject({ kind: 'held', dueAtMs: null, leftMs: 480_000 });
  });

  test('while flushing the small number counts the minute of the flush', () => {
    expect(viewAt(flushing(), fromT0(610)).board.second).toMatchObject({ kind: 'left', dueAtMs: fromT0(660) });
  });

  test('while the beam is on it counts the exposure of that eye, and says which comes then', () => {
    const first = viewAt(beamOn(TWO_EYES), fromT0(910)).board;
    expect(first).toMatchObject({
      title: 'light on, right eye',
      main: { kind: 'light', eye: 'right', dueAtMs: fromT0(983) },
      second: { kind: 'left', dueAtMs: fromT0(1200) },
      next: 'left eye',
    });
    const second = viewAt(after('beam-on:left', TWO_EYES), fromT0(1050)).board;
    expect(second).toMatchObject({
      title: 'light on, left eye',
      main: { kind: 'light', eye: 'left', dueAtMs: fromT0(1123) },
      second: null,
      next: 'light done, then after-care',
    });
  });

  test('where the eyes were taken in the other order it names the one that is left', () => {
    const other = { kind: 'beam-on', eye: 'left', override: { reason: 'the right eye is not ready' } } as const;
    const left = give(readyFor('beam-on:right', [], TWO_EYES), other, fromT0(900), OPERATOR);
    expect(viewAt(left, fromT0(910)).board).toMatchObject({
      title: 'light on, left eye',
      main: { eye: 'left' },
      second: { dueAtMs: fromT0(1200) },
      next: 'right eye',
    });
    expect(viewAt(left, fromT0(910)).wayOn).toMatchObject({ command: 'beam-off', eye: 'left' });
    expect(viewAt(left, fromT0(910)).tasks.map((task) => task.eye)).toEqual(['left', 'left', 'left', 'left']);
    const off = give(left, { kind: 'beam-off', endedByLaser: true }, fromT0(990), OPERATOR);
    expect(viewAt(off, fromT0(1000)).board).toMatchObject({
      title: 'right eye next',
      main: { kind: 'left', dueAtMs: fromT0(1200) },
    });
  });

  test('between two eyes it counts to the last moment for the second', () => {
    expect(viewAt(beamOff(TWO_EYES), fromT0(990)).board).toMatchObject({
      title: 'left eye next',
      main: { kind: 'left', dueAtMs: fromT0(1200), words: 'second eye to begin within' },
      second: null,
      next: 'beam on, left eye',
    });
  });

  test('with the beam off in the middle of an eye it stands at what is left', () => {
    const off = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, fromT0(930), OPERATOR);
    expect(viewAt(off, fromT0(940)).board).toMatchObject({
      title: 'light held',
      main: { kind: 'light', eye: 'right', dueAtMs: null, leftMs: 53_000 },
      next: 'right eye: beam on again, if the physician says so',
    });
  });

  test('once all light is given it shows none', () => {
    expect(viewAt(beamOff(), fromT0(990)).board).toEqual({
      title: 'light done',
      main: null,
      second: null,
      next: 'after-care',
    });
  });
});

describe('the way on', () => {
  test.each<[string, Session, number, string]>([
    ['planning', planned(), -350, 'prepare'],
    ['prepared', prepared(), -250, 'prime-line'],
    ['line primed', primed(), -150, 'start-pump'],
    ['infusing', infusing(), 100, 'begin-flush'],
    ['held', held(), 150, 'begin-flush'],
    ['flushing', flushing(), 610, 'end-flush'],
    ['waiting', waiting(), 700, 'beam-on'],
    ['beam on', beamOn(), 910, 'beam-off'],
    ['beam off, all given', beamOff(), 990, 'end-light'],
    ['after-care', inAfterCare(), 1200, 'discharge'],
  ])('%s leads on by its own command', (_state, session, seconds, command) => {
    expect(viewAt(session, fromT0(seconds)).wayOn?.command).toBe(command);
  });

  test('is closed while the laser gives its light, and says until when; beam off itself stays possible', () => {
    const during = viewAt(beamOn(), fromT0(983) - 1);
    expect(during.wayOn).toMatchObject({
      open: false,
      withReason: false,
      missing: [{ text: 'the light is being given', untilAtMs: fromT0(983) }],
    });
    expect(during.commands['beam-off']?.open).toBe(true);
    expect(viewAt(beamOn(), fromT0(983)).wayOn).toMatchObject({ open: true, missing: [] });
  });

  test('says when what it waits for comes about by itself', () => {
    expect(viewAt(infusing(), fromT0(100)).wayOn).toMatchObject({
      open: false,
      withReason: true,
      missing: [{ text: 'the pump has not reached its end', untilAtMs: fromT0(600) }],
    });
    expect(viewAt(flushing(), fromT0(610)).wayOn?.missing[0]?.untilAtMs).toBe(fromT0(645));
  });

  test('names the eye, and that it is begun again', () => {
    expect(viewAt(beamOff(TWO_EYES), fromT0(990)).wayOn).toMatchObject({ eye: 'left', words: 'left eye: beam on' });
    const off = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, fromT0(930), OPERATOR);
    expect(viewAt(off, fromT0(940)).wayOn).toMatchObject({ eye: 'right', words: 'right eye: beam on again' });
  });
});

describe('the timers', () => {
  test('while infusing: drug, infusion and light window run, the exposures are held', () => {
    const view = viewAt(infusing(TWO_EYES), fromT0(100));
    expect(view.timers).toEqual([
      {
        name: 'drug in use',
        eye: null,
        phase: 'running',
        plannedMs: 14_400_000,
        dueAtMs: fromT0(13_800),
        leftMs: null,
      },
      { name: 'infusion', eye: null, phase: 'running', plannedMs: 600_000, dueAtMs: fromT0(600), leftMs: null },
      { name: 'light window', eye: null, phase: 'running', plannedMs: 900_000, dueAtMs: fromT0(900), leftMs: null },
      { name: 'second eye', eye: null, phase: 'running', plannedMs: 1_200_000, dueAtMs: fromT0(1200), leftMs: null },
      { name: 'exposure', eye: 'right', phase: 'held', plannedMs: 83_000, dueAtMs: null, leftMs: 83_000 },
      { name: 'exposure', eye: 'left', phase: 'held', plannedMs: 83_000, dueAtMs: null, leftMs: 83_000 },
    ]);
  });

  test('held, the infusion stands and the light window runs on', () => {
    const view = viewAt(held(), fromT0(400));
    expect(timer(view, 'infusion')).toMatchObject({ phase: 'held', dueAtMs: null, leftMs: 480_000 });
    expect(timer(view, 'light window')).toMatchObject({ phase: 'running', dueAtMs: fromT0(900) });
    expect(view.course).toMatchObject({ held: true, infusionDueAtMs: null, infusionRanBeforeMs: 120_000 });
  });

  test('flushing: the infusion is done, the flush runs, the drug needs no more watching', () => {
    const view = viewAt(flushing(), fromT0(610));
    expect(view.timers.map(({ name, phase }) => [name, phase])).toEqual([
      ['infusion', 'done'],
      ['light window', 'running'],
      ['flush', 'running'],
      ['exposure', 'held'],
    ]);
    expect(timer(view, 'flush')).toMatchObject({ dueAtMs: fromT0(660), plannedMs: 60_000 });
    expect(timer(viewAt(waiting(), fromT0(700)), 'flush')).toBeUndefined();
  });

  test('an exposure runs while the beam is on, and is done once the light is whole', () => {
    expect(timer(viewAt(beamOn(), fromT0(910)), 'exposure')).toMatchObject({ phase: 'running', dueAtMs: fromT0(983) });
    expect(timer(viewAt(beamOff(), fromT0(990)), 'exposure')).toMatchObject({ phase: 'done', leftMs: 0 });
    const course = viewAt(beamOn(), fromT0(910)).course;
    expect(course?.exposures[0]).toMatchObject({ beamOnSinceAtMs: fromT0(900), deliveredBeforeMs: 0, whole: false });
  });

  test('the window is open from its instant on', () => {
    expect(viewAt(waiting(), fromT0(900) - 1).course?.windowOpen).toBe(false);
    expect(viewAt(waiting(), fromT0(900)).course?.windowOpen).toBe(true);
  });
});

describe('what is told', () => {
  test('the patient, the order and the eyes in their turn', () => {
    const view = viewAt(planned(TWO_EYES), atOf('prepare'));
    expect(view).toMatchObject({
      seq: 42,
      stateWords: 'planning',
      patient: { patientCode: 'K-2041', birthDate: '1951-03-02' },
      regimen: { id: 'label', onLabel: true, lightStartMin: 15 },
      orderedBy: 'the ordering physician',
      eyes: ['right', 'left'],
    });
  });

  test('when the drug is to be used by, and until when bright light is kept away', () => {
    const view = viewAt(inAfterCare(), fromT0(1200));
    expect(view.drugUseByWallMs).toBe(momentAt(fromT0(-600)).wallMs + 4 * 3_600_000);
    expect(view.lightCareUntilWallMs).toBe(momentAt(fromT0(600)).wallMs + 120 * 3_600_000);
    expect(viewAt(primed(), fromT0(-100)).lightCareUntilWallMs).toBeNull();
  });

  test('every screening answer that was yes, and what the plan cautions of', () => {
    const screen = { kind: 'screen', answers: { ...ALL_NO, photosensitisers: 'yes' } } as const;
    const view = viewAt(give(planned(courseOf([RIGHT], 'half-fluence')), screen, fromT0(-310)), fromT0(-300));
    expect(view.cautions).toContainEqual(expect.stringMatching(/^other photosensitising medicines: /));
    expect(view.cautions).toContainEqual(expect.stringMatching(/off-label/));
  });

  test('tasks of the eye in turn, done and not done', () => {
    const view = viewAt(readyFor('beam-on:left', ['drops:left'], TWO_EYES), fromT0(1030));
    expect(view.tasks.map(({ id, done }) => [id, done !== null])).toEqual([
      ['read-back', true],
      ['drops:left', false],
      ['lens-on:left', true],
      ['eye-time-out:left', true],
    ]);
  });
});
