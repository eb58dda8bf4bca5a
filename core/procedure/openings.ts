import { CHECKS } from './checks.ts';
import type { CommandKind } from './commands.ts';
import { type Ask, CONDITIONS, type Missing, WAITS_FOR } from './conditions.ts';
import { type SessionRecord, stateOf } from './record.ts';
import { STATE_WORDS, STATES, type StateName } from './states.ts';

const NOT_DISCHARGED = STATES.filter((state) => state !== 'discharged');
const SINCE_DRUG = ['infusing', 'flushing', 'waitingForLight', 'lightDelivery', 'afterCare', 'stoppedEarly'] as const;
const CHECK_STATES = STATES.filter((state) =>
  CHECKS.some((check) => (check.states as readonly StateName[]).includes(state)),
);

/** In which states each command is possible. What else it waits for is in `WAITS_FOR`. */
export const STATES_OF: Record<CommandKind, readonly StateName[]> = {
  identify: ['planning'],
  order: ['planning'],
  screen: ['planning'],
  measure: ['planning'],
  'second-check': ['planning'],
  prepare: ['planning'],
  drug: ['prepared'],
  'prime-line': ['prepared'],
  line: ['linePrimed'],
  'start-pump': ['linePrimed'],
  hold: ['infusing'],
  resume: ['infusing'],
  trouble: ['infusing', 'flushing', 'waitingForLight', 'lightDelivery', 'afterCare'],
  'trouble-told': SINCE_DRUG,
  'set-back': ['infusing'],
  'begin-flush': ['infusing'],
  'end-flush': ['flushing'],
  'read-back': ['waitingForLight', 'lightDelivery'],
  'beam-on': ['waitingForLight', 'lightDelivery'],
  'beam-off': ['lightDelivery'],
  'beam-set-back': ['lightDelivery'],
  looked: ['infusing', 'flushing', 'waitingForLight', 'lightDelivery'],
  'cue-heard': ['infusing', 'flushing', 'waitingForLight', 'lightDelivery'],
  'end-light': ['lightDelivery'],
  reactions: SINCE_DRUG,
  review: ['afterCare', 'stoppedEarly'],
  discharge: ['afterCare', 'stoppedEarly'],
  check: CHECK_STATES,
  uncheck: CHECK_STATES,
  note: NOT_DISCHARGED,
  deviation: NOT_DISCHARGED,
  'stop-early': NOT_DISCHARGED.filter((state) => state !== 'stoppedEarly'),
  addendum: ['discharged'],
};

/**
 * What a command is waiting for in this session: nothing when it is open. The first sentence names the state when it
 * is the state that closes it.
 */
export function missingFor(kind: CommandKind, record: SessionRecord, ask: Ask): Missing[] {
  const state = stateOf(record);
  const states = STATES_OF[kind];
  if (!states.includes(state)) {
    const words = states.map((one) => STATE_WORDS[one]).join(', ');
    return [
      { text: `possible only in: ${words}; this session is in: ${STATE_WORDS[state]}`, untilAtMs: null, firm: true },
    ];
  }
  return (WAITS_FOR[kind] ?? []).flatMap((name) => {
    const missing = CONDITIONS[name](record, ask);
    return missing === null ? [] : [missing];
  });
}

/** Whether it may be done: all is there, or what is missing is not firm and a reason for going on is given. */
export function permits(missing: readonly Missing[], overridden: boolean): boolean {
  return missing.length === 0 || (overridden && missing.every((one) => !one.firm));
}
