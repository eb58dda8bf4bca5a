import type { Guide } from '../../core/practice/guide-schema.ts';
import type { MadeUpId } from '../../core/practice/made-up-troubles.ts';
import type { Command } from '../../core/procedure/commands.ts';
import type { SessionView } from '../../core/protocol/view.ts';
import type { StationUnderTest } from '../station/station-under-test.ts';
import { entered, type Given, NURSE, requestOf, TREATMENT } from '../station/treatment.ts';

/** How often somebody who only waits looks at the screen, on the clock of the session. */
const LOOK_MS = 5_000;
const MOST_LOOKS = 2_000;

/** How time goes by while there is nothing to press. */
export type Wait = (station: StationUnderTest) => Promise<void>;

const stepping: Wait = (station) => station.advanceTo(station.latest().nowMs + LOOK_MS);
export const living: Wait = () => new Promise((resolve) => setTimeout(resolve, 25));

/** What somebody does when trouble is told: a command, from then on what the scale showed, or nothing. */
export type Meets = (trouble: MadeUpId) => Command | 'by the scale' | null;

export const AS_TAUGHT: Meets = (trouble) => ANSWERS[trouble];

const ANSWERS: Record<MadeUpId, Command | 'by the scale' | null> = {
  'wrong-weight': 'by the scale',
  swelling: { kind: 'trouble', card: 'extravasation' },
  'back-pain': { kind: 'hold', reason: 'pain' },
  'pump-alarm': { kind: 'trouble', card: 'pump' },
  'early-operator': null,
  'moved-eye': { kind: 'beam-off', endedByLaser: false },
};

export function guideIn(station: StationUnderTest): Guide {
  const { guide } = station.latest();
  if (guide === null) throw new Error('nothing is told beside the session');
  return guide;
}

/** Presses what the guide says, and meets trouble in this way, until a session is as it should be. */
export async function follow(
  station: StationUnderTest,
  sessionId: string,
  meets: Meets,
  until: (view: SessionView, guide: Guide) => boolean = ({ state }) => state === 'discharged',
  wait: Wait = stepping,
): Promise<Guide> {
  const met = new Set<MadeUpId>();
  let byScale = false;
  for (let looks = 0; looks < MOST_LOOKS; looks += 1) {
    await station.look();
    const guide = guideIn(station);
    const view = station.view(sessionId);
    if (until(view, guide)) return guide;
    const told = guide.thrown.find(({ waiting, trouble }) => waiting && !met.has(trouble))?.trouble;
    const answer = told === undefined ? null : meets(told);
    if (told !== undefined) met.add(told);
    if (answer === 'by the scale') byScale = true;
    const given =
      answer === null || answer === 'by the scale' ? pressed(view, guide, byScale) : { by: NURSE, command: answer };
    if (given === null) await wait(station);
    else entered(await station.ask(requestOf(station, sessionId, given)));
  }
  throw new Error('the guide leads nowhere');
}

/** What the key that the guide names gives; null where it says to wait. */
function pressed(view: SessionView, guide: Guide, byScale: boolean): Pick<Given, 'by' | 'command'> | null {
  const said = guide.next?.key ?? null;
  // Who means to do nothing about trouble goes on as if it were not told.
  const ignored =
    said === 'T' ||
    said === 'B' ||
    (!byScale && guide.next?.words === 'height and weight' && view.wayOn?.open === true);
  const key = !ignored ? said : view.wayOn?.open === true ? 'Enter' : null;
  if (key === null) return null;
  if (key === 'R') return { by: NURSE, command: { kind: 'resume', override: { reason: 'another vein is in' } } };
  if (key === 'C') return { by: NURSE, command: toldOf(view) };
  const task = view.tasks[Number(key) - 1];
  const kind = key === 'Enter' ? view.wayOn?.command : task?.command;
  const found = TREATMENT.find(
    ({ command }) => command.kind === kind && (command.kind !== 'check' || command.item === task?.item),
  );
  if (found === undefined) throw new Error(`a treatment has nothing for the key ${key}`);
  return byScale ? weighed(found, guide) : found;
}

/** Height stays as it was; the weight is read off what the guide tells. */
function weighed({ by, command }: Given, { thrown }: Guide): Pick<Given, 'by' | 'command'> {
  const told = thrown.find(({ trouble }) => trouble === 'wrong-weight')?.words ?? '';
  const weightKg = Number(/shows ([\d.]+) kg/.exec(told)?.[1]);
  return {
    by,
    command: command.kind === 'measure' || command.kind === 'second-check' ? { ...command, weightKg } : command,
  };
}

function toldOf({ troubles }: SessionView): Command {
  const card = troubles.find(({ told }) => told === null)?.card;
  if (card === undefined) throw new Error('there is no trouble to tell of');
  return { kind: 'trouble-told', card: card.id, words: 'cold compress, covered, other arm' };
}
