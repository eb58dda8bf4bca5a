import { describe, expect, test } from 'vitest';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  atOf,
  beamOff,
  beamOn,
  courseOf,
  flushing,
  give,
  infusing,
  LEFT,
  momentAt,
  OPERATOR,
  RIGHT,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

const fromT0 = (seconds: number): number => T0_AT_MS + seconds * 1000;
const boardAt = (session: Session, atMs: number) => viewOf(session.context, 7, momentAt(atMs)).board;

/** Light at 10 min, and no limit published for a second eye. */
const WITHOUT_LIMIT = courseOf([RIGHT, LEFT], 'half-dose-10');

describe('what comes next on the board', () => {
  test('is the flush, with its volume and its seconds, while drug runs', () => {
    expect(boardAt(infusing(), fromT0(100)).next).toBe('flush, 5 mL dextrose 5 % over 60 s');
  });

  test('is to make the eye ready while the line is flushed', () => {
    expect(boardAt(flushing(), fromT0(610)).next).toBe('drops, lens, read the laser settings back');
  });
});

describe('with a second eye to come', () => {
  test('until the first has light the number still counts to the window, and to nothing else', () => {
    const { main, second } = boardAt(waiting(TWO_EYES), fromT0(700));
    expect(main).toMatchObject({ words: 'to the light window', dueAtMs: fromT0(900) });
    expect(second).toBeNull();
  });

  test('light held in the middle of the first names the limit of the second beside what is left', () => {
    const onAtMs = atOf('beam-on:right', TWO_EYES);
    const off = give(beamOn(TWO_EYES), { kind: 'beam-off', endedByLaser: false }, onAtMs + 30_000, OPERATOR);
    expect(boardAt(off, onAtMs + 40_000)).toMatchObject({
      title: 'light held',
      second: { words: 'second eye to begin within', dueAtMs: fromT0(1200) },
    });
    expect(viewOf(off.context, 7, momentAt(onAtMs + 40_000)).wayOn?.words).toBe('right eye: beam on again');
  });

  test('where no limit is published none is counted: between the eyes the window stays the number', () => {
    const { main, second } = boardAt(beamOff(WITHOUT_LIMIT), fromT0(990));
    expect(main).toMatchObject({ words: 'to the light window', dueAtMs: fromT0(600) });
    expect(second).toBeNull();
    expect(boardAt(beamOn(WITHOUT_LIMIT), fromT0(910)).second).toBeNull();
  });
});

test('light that is being given counts to an instant, and what is left is for the screen to count', () => {
  expect(boardAt(beamOn(), fromT0(910)).main).toEqual({
    kind: 'light',
    eye: 'right',
    dueAtMs: fromT0(983),
    leftMs: null,
    words: 'light left',
    pastWords: 'ordered light given: is the beam off?',
  });
});
