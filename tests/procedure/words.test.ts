import { expect, test } from 'vitest';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import type { SessionView, TaskView } from '../../core/protocol/view.ts';
import {
  ALL_NO,
  atOf,
  beamOn,
  give,
  held,
  infusing,
  momentAt,
  OPERATOR,
  OTHER_WEIGHT,
  opened,
  play,
  readyFor,
  SECOND_NURSE,
  stopped,
  T0_AT_MS,
  TWO_EYES,
} from '../session-steps.ts';

test('nothing that a screen is given to say is left empty, at any step of a treatment or beside its way', () => {
  const views = [...everyStep(), ...besideTheWay()];
  expect(unreadable(views.flatMap(saidIn))).toEqual([]);
  const tasks = views.flatMap((view) => view.tasks);
  expect(tasks.filter((task) => saysWhat(task) !== (task.done !== null && task.item === null))).toEqual([]);
});

/** At least two letters, and nothing that a program says of itself. */
const unreadable = (texts: readonly string[]): string[] =>
  [...new Set(texts)].filter((text) => !/\p{L}{2}/u.test(text) || /undefined|null|NaN|\[object/.test(text));

/** A task that is done says what was entered or what is wrong with it; a check has nothing to say but itself. */
const saysWhat = ({ detail, trouble }: TaskView): boolean => detail !== '' || trouble !== null;

const seen = (session: Session, atMs: number): SessionView => viewOf(session.context, 7, momentAt(atMs));

function everyStep(): SessionView[] {
  let session = opened();
  return TWO_EYES.flatMap((step) => {
    const before = seen(session, step.atMs - 1000);
    session = play([step], session);
    return [before, seen(session, step.atMs + 1000)];
  });
}

function besideTheWay(): SessionView[] {
  const asked = { kind: 'screen', answers: { ...ALL_NO, uptake: 'yes' } } as const;
  const drawnBack = { kind: 'beam-off', endedByLaser: false } as const;
  const atMs = atOf('beam-on:right') + 30_000;
  return [
    seen(give(opened({ lightCareHours: 24 }), asked, atOf('screen')), atOf('measure')),
    seen(give(readyFor('second-check'), OTHER_WEIGHT, atOf('second-check'), SECOND_NURSE), atOf('prepare')),
    seen(held(), T0_AT_MS + 130_000),
    seen(give(infusing(), { kind: 'trouble', card: 'pain' }, T0_AT_MS + 100_000), T0_AT_MS + 110_000),
    seen(give(beamOn(), drawnBack, atMs, OPERATOR), atMs + 1000),
    seen(stopped(infusing(), T0_AT_MS + 100_000), T0_AT_MS + 110_000),
  ];
}

function saidIn(view: SessionView): string[] {
  const { board, tasks, wayOn, troubleCards, troubles, cues, hushable, cautions } = view;
  const counts = [board.main, board.second].flatMap((count) => (count === null ? [] : [count.words, count.pastWords]));
  const cards = [...troubleCards, ...troubles.map(({ card }) => card)];
  return [
    ...[view.stateWords, view.guidance, board.title, ...counts, ...cautions],
    ...(view.state === 'discharged' ? [] : [board.next]),
    ...tasks.flatMap(({ words, trouble, source }) => [words, trouble ?? words, source ?? words]),
    ...(wayOn === null ? [] : [wayOn.words, ...wayOn.missing.map(({ text }) => text)]),
    ...Object.values(view.commands).flatMap(({ missing }) => missing.map(({ text }) => text)),
    ...cards.flatMap(({ words, steps, afterwards, source }) => [words, ...steps, afterwards, source]),
    ...[...cues, ...hushable].map(({ words }) => words),
  ];
}
