import { KEYS } from '../keys/key-table.ts';
import type { CommandKind } from '../procedure/commands.ts';
import type { SessionView } from '../protocol/view.ts';
import type { MadeUpTrouble } from './made-up-troubles.ts';

/** The very next thing to press, from what the session itself says; `key` is null where there is only waiting. */
export interface NextStep {
  readonly key: string | null;
  readonly words: string;
  /** What is behind it: where it comes from, or what is wrong; null where nothing is to be added. */
  readonly why: string | null;
}

/** Null where nothing is left to be done: the session is over. `told` is trouble that was made up and waits. */
export function nextStepOf(view: SessionView, told: MadeUpTrouble | null = null): NextStep | null {
  return answer(told, view) ?? undoneTask(view) ?? besideTheWay(view) ?? wayOn(view);
}

/** Trouble goes before everything; where it is met by waiting, the session says itself what for. */
function answer(told: MadeUpTrouble | null, { tasks }: SessionView): NextStep | null {
  const by = told?.answeredBy.by;
  if (by === 'stopping the pump') return byKeyOf('trouble', null);
  if (by === 'putting the weight right') return measuredAnew(tasks);
  return by === 'taking the beam off' ? byKeyOf('beam-off', null) : null;
}

/** Not before the second person has computed: that is how a wrong weight is found. */
function measuredAnew(tasks: SessionView['tasks']): NextStep | null {
  const computed = tasks.some(({ command, done }) => command === 'second-check' && done !== null);
  const index = tasks.findIndex(({ command }) => command === 'measure');
  const task = tasks[index];
  return computed && task !== undefined ? { key: String(index + 1), words: task.words, why: null } : null;
}

function undoneTask({ tasks }: SessionView): NextStep | null {
  const index = tasks.findIndex(({ done, trouble }) => done === null || trouble !== null);
  const task = tasks[index];
  if (task === undefined) return null;
  return { key: String(index + 1), words: task.words, why: task.trouble ?? task.source };
}

/** Keys of their own that the way on waits for: a pump that stands still, and trouble that is not told of yet. */
function besideTheWay({ state, course, troubles, wayOn: way }: SessionView): NextStep | null {
  if (state === 'infusing' && course?.held === true) return byKeyOf('resume', null);
  const untold = troubles.find(({ told }) => told === null);
  if (untold === undefined || way?.command !== 'discharge') return null;
  return byKeyOf('trouble-told', untold.card.words);
}

function byKeyOf(command: CommandKind, why: string | null): NextStep | null {
  const binding = KEYS.find(({ needs }) => needs === command);
  return binding === undefined ? null : { key: binding.cap, words: binding.words, why };
}

function wayOn({ wayOn: way }: SessionView): NextStep | null {
  if (way === null) return null;
  if (way.open) return { key: 'Enter', words: way.words, why: null };
  return { key: null, words: way.missing.map(({ text }) => text).join('; '), why: null };
}
