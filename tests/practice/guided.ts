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

/** What somebody does when trouble is told; null where they do nothing. */
export type Meets = (trouble: MadeUpId) => Command | null;

export const AS_TAUGHT: Meets = (trouble) => ANSWERS[trouble];

const ANSWERS: Record<MadeUpId, Command | null> = {
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
  for (let looks = 0; looks < MOST_LOOKS; looks += 1) {
    await station.look();
    const guide = guideIn(station);
    const view = station.view(sessionId);
    if (until(view, guide)) return guide;
    const told = guide.thrown.find(({ waiting, trouble }) => waiting && !met.has(trouble))?.trouble;
    const answer = told === undefined ? null : meets(told);
    if (told !== undefined) met.add(told);
    const given = answer === null ? pressed(view, guide) : { by: NURSE, command: answer };
    if (given === null) await wait(station);
    else entered(await station.ask(requestOf(station, sessionId, given)));
  }
  throw new Error('the guide leads nowhere');
}

/** What the key that the guide names gives; null where it says to wait. */
function pressed(view: SessionView, { next }: Guide): Pick<Given, 'by' | 'command'> | null {
  const said = next?.key ?? null;
  // Who means to do nothing about trouble goes on as if it were not told.
  const key = said !== 'T' && said !== 'B' ? said : view.wayOn?.open === true ? 'Enter' : null;
  if (key === null) return null;
  if (key === 'R') return { by: NURSE, command: { kind: 'resume', override: { reason: 'another vein is in' } } };
  if (key === 'C') return { by: NURSE, command: toldOf(view) };
  const task = view.tasks[Number(key) - 1];
  const kind = key === 'Enter' ? view.wayOn?.command : task?.command;
  const found = TREATMENT.find(
    ({ command }) => command.kind === kind && (command.kind !== 'check' || command.item === task?.item),
  );
  if (found === undefined) throw new Error(`a treatment has nothing for the key ${key}`);
  return found;
}

function toldOf({ troubles }: SessionView): Command {
  const card = troubles.find(({ told }) => told === null)?.card;
  if (card === undefined) throw new Error('there is no trouble to tell of');
  return { kind: 'trouble-told', card: card.id, words: 'cold compress, covered, other arm' };
}
