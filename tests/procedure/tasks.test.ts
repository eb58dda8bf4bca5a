import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { eventOf } from '../../core/procedure/events.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import { tasksOf } from '../../core/procedure/tasks.ts';
import {
  ALL_NO,
  atOf,
  beamOn,
  discharged,
  after as doneTo,
  give,
  inAfterCare,
  infusing,
  instead,
  LEFT,
  momentAt,
  ONE_EYE,
  OTHER_WEIGHT,
  opened,
  orderOf,
  planned,
  play,
  prepared,
  primed,
  RIGHT,
  readyFor,
  SECOND_NURSE,
  settingsFor,
  stopped,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

const taskOf = ({ context }: Session, id: string) => tasksOf(context, latestMs).find((one) => one.id === id);
const idsOf = ({ context }: Session): string[] => tasksOf(context, latestMs).map(({ id }) => id);
/** After everything in these sessions. */
const latestMs = atOf('discharge', TWO_EYES) + 60_000;

describe('what is to be done', () => {
  test('in planning, for one eye: what two people enter, and consent', () => {
    const one = ['identify', 'consent', 'order', 'screen', 'measure', 'second-check'];
    expect(idsOf(opened())).toEqual(one);
    expect(idsOf(planned())).toEqual(one);
  });

  test('for two eyes: which comes first, asked after the order and only with two', () => {
    const ids = ['identify', 'consent', 'order', 'aggressive-first', 'screen', 'measure', 'second-check'];
    expect(idsOf(planned(TWO_EYES))).toEqual(ids);
  });

  test('while drug runs: nothing but to watch', () => {
    expect(idsOf(infusing())).toEqual([]);
  });

  test('for the light: each eye in its turn, under its name', () => {
    expect(tasksOf(waiting(TWO_EYES).context, atOf('end-flush')).map(({ id, words }) => [id, words])).toEqual([
      ['read-back', 'right eye: laser settings read back'],
      ['drops:right', 'right eye: anaesthetic drops are in'],
      ['lens-on:right', 'right eye: contact lens is on the eye'],
      ['eye-time-out:right', 'right eye: second time-out: this eye, this spot, agreed aloud'],
    ]);
    expect(taskOf(readyFor('beam-on:left', [], TWO_EYES), 'read-back')?.words).toBe(
      'left eye: laser settings read back',
    );
  });

  test('after a stop: after-care where drug was given, and nothing where none was', () => {
    const care = ['bracelet', 'sheet-given', 'reactions', 'review'];
    expect(idsOf(stopped(infusing(), T0_AT_MS + 60_000))).toEqual(care);
    expect(idsOf(inAfterCare())).toEqual(care);
    expect(idsOf(stopped(prepared(), atOf('drug')))).toEqual([]);
  });

  test('a check is entered by "check", with its item and, where it is of one eye, the eye', () => {
    expect(taskOf(primed(), 'filter')).toMatchObject({ command: 'check', item: 'filter', eye: null });
    expect(taskOf(waiting(), 'drops:right')).toMatchObject({ command: 'check', item: 'drops', eye: 'right' });
    expect(taskOf(primed(), 'filter')?.words).toMatch(/^in-line filter is in the line/);
    expect(taskOf(primed(), 'line')).toMatchObject({ command: 'line', item: null, eye: null });
  });

  test('what is of both eyes has no eye, also while one has its turn', () => {
    const tasks = tasksOf(readyFor('discharge', [], TWO_EYES).context, latestMs);
    expect(tasks.map(({ eye }) => eye)).toEqual([null, null, null, null]);
  });
});

describe('what was entered, in short', () => {
  test.each<[string, Session, string, string]>([
    ['the patient', doneTo('identify'), 'identify', 'K-2041, born 1951-03-02'],
    ['no answer that was yes', planned(), 'screen', 'all answered no'],
    ['height and weight', planned(), 'measure', '168 cm, 71.5 kg'],
    ['a second computation that agrees', planned(), 'second-check', 'agrees'],
    [
      'the order of one eye',
      planned(),
      'order',
      'Label: full dose, full fluence · right 2600 µm · the ordering physician',
    ],
    ['the vial', doneTo('drug'), 'drug', 'lot A1027, expires 2099-12-31'],
    ['a line primed with dextrose', doneTo('line'), 'line', '1.5 mL, primed with dextrose 5 %'],
    ['the date of the review', doneTo('review'), 'review', '2099-03-01'],
  ])('%s', (_what, session, id, detail) => {
    expect(taskOf(session, id)?.detail).toBe(detail);
  });

  test('the order of two eyes, in the order of their treatment', () => {
    expect(taskOf(planned(TWO_EYES), 'order')?.detail).toContain('· right 2600 µm, then left 1850 µm ·');
  });

  test('a line primed with drug', () => {
    const steps = instead('line', { kind: 'line', lineMl: 0.8, primedWith: 'drug' });
    expect(taskOf(doneTo('line', steps), 'line')?.detail).toBe('0.8 mL, primed with the infusate');
  });

  test('every answer that was yes, and none that was no', () => {
    const answers = { ...ALL_NO, uptake: 'yes', 'too-soon': 'yes' } as const;
    const session = give(readyFor('screen'), { kind: 'screen', answers }, atOf('screen'));
    expect(taskOf(session, 'screen')?.detail).toBe(
      'yes: treated less than 3 months ago; calcium-channel blocker, polymyxin B, or radiation therapy',
    );
  });

  test('the laser, by its irradiance or by its power, whichever it shows', () => {
    const { irradianceMwPerCm2: _irradiance, ...bare } = settingsFor(RIGHT);
    const detailOf = (command: Command) => {
      const session = give(waiting(), { ...command, setSpotUm: 2400 } as Command, atOf('read-back:right'));
      return taskOf(session, 'read-back')?.detail;
    };
    expect(detailOf(settingsFor(RIGHT))).toBe('spot 2400 µm, lens × 1.5 (laser × 1.5), 600 mW/cm², 83 s');
    expect(detailOf({ ...bare, powerMw: 61 })).toBe('spot 2400 µm, lens × 1.5 (laser × 1.5), 61 mW, 83 s');
  });

  test('the laser of the eye whose turn it is: the other has still to be read back', () => {
    const session = readyFor('beam-on:left', ['read-back:left'], TWO_EYES);
    expect(taskOf(session, 'read-back')).toMatchObject({ eye: 'left', done: null, detail: '', trouble: null });
  });

  test('every reaction that was told, and when the last was', () => {
    const first = give(inAfterCare(), { kind: 'reactions', words: 'a little back pain' }, atOf('reactions'));
    const session = give(first, { kind: 'reactions', words: 'gone after a minute' }, atOf('reactions') + 5000);
    expect(taskOf(session, 'reactions')).toMatchObject({
      detail: 'a little back pain; gone after a minute',
      done: { atMs: atOf('reactions') + 5000 },
    });
  });

  test('what is not entered yet has nothing to say', () => {
    for (const session of [opened(), prepared(), primed(), waiting(), inAfterCare()]) {
      const tasks = tasksOf(session.context, latestMs);
      expect(tasks.map(({ done, detail, trouble }) => [done, detail, trouble])).toEqual(
        tasks.map(() => [null, '', null]),
      );
    }
  });
});

describe('what was entered and does not let the session go on', () => {
  test('is no agreement, and says where the two are apart', () => {
    const task = taskOf(
      give(readyFor('second-check'), OTHER_WEIGHT, atOf('second-check'), SECOND_NURSE),
      'second-check',
    );
    expect(task).toMatchObject({ detail: '', done: { by: SECOND_NURSE } });
    expect(task?.trouble).toMatch(/^differs: weight, kg: first 71.5, second 81.5; /);
  });

  test('of the laser says what it shows otherwise', () => {
    const shown = { ...settingsFor(RIGHT), irradianceMwPerCm2: 500 };
    const task = taskOf(give(waiting(), shown, atOf('read-back:right')), 'read-back');
    expect(task?.trouble).toContain('500');
    expect(taskOf(give(waiting(), settingsFor(RIGHT), atOf('read-back:right')), 'read-back')?.trouble).toBeNull();
  });
});

describe('until a second person has computed', () => {
  const withheld = 'entered; shown once a second person has computed it too';
  const hidden = [withheld, withheld];
  const told = (session: Session) => [taskOf(session, 'order')?.detail, taskOf(session, 'measure')?.detail];

  test('the first figures are not told, and after that they are', () => {
    expect(told(readyFor('second-check'))).toEqual(hidden);
    expect(told(planned())).not.toContain(withheld);
  });

  test('they are told no more once one of them was entered anew', () => {
    expect(told(give(planned(), orderOf([LEFT]), atOf('prepare')))).toEqual(hidden);
  });
});

describe('a computer that slept', () => {
  const slept = (session: Session, atMs: number): Session => {
    const content = { kind: 'slept', sleptMs: 90_000, byWallMs: 90_000 } as const;
    const next = sessionAfter(session, eventOf(content, {}, momentAt(atMs), STATION_AUTHOR));
    if (next === null) throw new Error('a sleep can be entered wherever drug is under way');
    return next;
  };
  const atMs = T0_AT_MS + 200_000;

  test('asks before anything else that somebody looks at the pump, once for all its sleeps', () => {
    const twice = slept(slept(beamOn(), atOf('beam-on:right') + 1000), atOf('beam-on:right') + 5000);
    expect(idsOf(twice)).toEqual(['looked', 'read-back', 'drops:right', 'lens-on:right', 'eye-time-out:right']);
    expect(taskOf(twice, 'looked')).toEqual({
      id: 'looked',
      command: 'looked',
      item: null,
      eye: null,
      words: 'this computer slept: look at the pump and say what it did',
      source: 'local practice',
      done: null,
      detail: '',
      trouble: null,
    });
  });

  test('asks no more once somebody has, until it sleeps again', () => {
    const looked = give(slept(infusing(), atMs), { kind: 'looked', pump: 'ran on' }, atMs + 1000);
    expect(idsOf(looked)).toEqual([]);
    expect(idsOf(slept(looked, atMs + 2000))).toEqual(['looked']);
  });

  test('asks nothing of a session that is closed', () => {
    const stoppedAtMs = atMs + 1000;
    let session = stopped(slept(infusing(), atMs), stoppedAtMs);
    expect(idsOf(session)[0]).toBe('looked');
    session = give(session, { kind: 'discharge', override: { reason: 'taken to the ward' } }, stoppedAtMs + 1000);
    expect(session.value).toBe('discharged');
    expect(idsOf(session)).toEqual([]);
  });
});

test('a session that is over has nothing left to do', () => {
  expect(idsOf(discharged())).toEqual([]);
  expect(idsOf(play(ONE_EYE))).toEqual([]);
});
