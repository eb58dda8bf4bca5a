import { assign, setup } from 'xstate';
import { DEFAULT_SETTINGS, type Settings } from '../settings/settings.ts';
import type { Moment } from '../time/moment.ts';
import type { CommandKind } from './commands.ts';
import type { SessionEvent } from './events.ts';
import { missingFor, permits } from './openings.ts';
import type { Author } from './person.ts';
import type { SessionRecord } from './record.ts';
import { doneBy, recordAfter } from './record-after.ts';
import type { StateName } from './states.ts';

export interface SessionInput {
  readonly sessionId: string;
  readonly practice: boolean;
  readonly settings?: Settings | undefined;
  readonly at: Moment;
  readonly by: Author;
}

const may =
  (kind: CommandKind) =>
  ({ context, event }: { context: SessionRecord; event: SessionEvent }): boolean => {
    if (event.type !== kind) return false;
    const command = event.content as Parameters<typeof missingFor>[2]['command'];
    const missing = missingFor(kind, context, { at: event.at, by: event.by, command });
    return permits(missing, 'override' in event.content && event.content.override !== undefined);
  };

const procedure = setup({
  types: {
    context: {} as SessionRecord,
    events: {} as SessionEvent,
    input: {} as SessionInput,
  },
  guards: {
    mayIdentify: may('identify'),
    mayOrder: may('order'),
    mayScreen: may('screen'),
    mayMeasure: may('measure'),
    mayComputeSecond: may('second-check'),
    mayPrepare: may('prepare'),
    mayReadVial: may('drug'),
    mayPrimeLine: may('prime-line'),
    mayStateLine: may('line'),
    mayStartPump: may('start-pump'),
    mayHold: may('hold'),
    mayLook: may('looked'),
    maySetBeamBack: may('beam-set-back'),
    mayMeetTrouble: may('trouble'),
    mayTellTrouble: may('trouble-told'),
    mayResume: may('resume'),
    maySetBack: may('set-back'),
    mayBeginFlush: may('begin-flush'),
    mayEndFlush: may('end-flush'),
    mayReadBack: may('read-back'),
    mayBeamOn: may('beam-on'),
    mayBeamOff: may('beam-off'),
    mayEndLight: may('end-light'),
    mayEnterReactions: may('reactions'),
    maySetReview: may('review'),
    mayDischarge: may('discharge'),
    mayCheck: may('check'),
    mayUncheck: may('uncheck'),
    mayNote: may('note'),
    mayDeviate: may('deviation'),
    mayStopEarly: may('stop-early'),
    mayAdd: may('addendum'),
    mayHush: may('cue-heard'),
  },
  actions: {
    enter: assign(({ context, event }) => recordAfter(context, event)),
    reach: assign(({ context, event }, { state }: { state: StateName }) => ({
      reached: [...context.reached, { state, ...doneBy(event) }],
    })),
  },
});

const enter = 'enter' as const;
const reach = <S extends StateName>(state: S) => ({ type: 'reach' as const, params: { state } });

/** What may be entered in every state but `discharged`. */
const always = {
  note: { guard: 'mayNote', actions: enter },
  deviation: { guard: 'mayDeviate', actions: enter },
  rebase: { actions: enter },
  'cue-sounded': { actions: enter },
} as const;

const stop = { 'stop-early': { guard: 'mayStopEarly', target: '#stoppedEarly', actions: enter } } as const;
const checks = {
  check: { guard: 'mayCheck', actions: enter },
  uncheck: { guard: 'mayUncheck', actions: enter },
} as const;
/** Trouble met, and told of, wherever nothing has to be switched off for it. */
const trouble = { trouble: { guard: 'mayMeetTrouble', actions: enter } } as const;
const reactions = {
  reactions: { guard: 'mayEnterReactions', actions: enter },
  'trouble-told': { guard: 'mayTellTrouble', actions: enter },
} as const;
/** Instants counted from T0 come due whatever is being done then. */
const expiry = { 'drug-expiry-due': { actions: enter } } as const;
const course = {
  ...expiry,
  'infusion-due': { actions: enter },
  'light-due': { actions: enter },
  'second-eye-due': { actions: enter },
  slept: { actions: enter },
  looked: { guard: 'mayLook', actions: enter },
  'cue-heard': { guard: 'mayHush', actions: enter },
} as const;

/**
 * The procedure of one session. Used through the pure `transition` function: no delays, no side effects, no clock.
 * States change only here; what is known is folded by `recordAfter`; what each command waits for is in `conditions`.
 */
export const procedureMachine = procedure.createMachine({
  id: 'session',
  context: ({ input }) => emptyRecord(input),
  initial: 'planning',
  states: {
    planning: {
      on: {
        ...always,
        ...stop,
        ...checks,
        identify: { guard: 'mayIdentify', actions: enter },
        order: { guard: 'mayOrder', actions: enter },
        screen: { guard: 'mayScreen', actions: enter },
        measure: { guard: 'mayMeasure', actions: enter },
        'second-check': { guard: 'mayComputeSecond', actions: enter },
        prepare: { guard: 'mayPrepare', target: 'prepared', actions: [enter, reach('prepared')] },
      },
    },
    prepared: {
      on: {
        ...always,
        ...stop,
        ...checks,
        ...expiry,
        drug: { guard: 'mayReadVial', actions: enter },
        'prime-line': { guard: 'mayPrimeLine', target: 'linePrimed', actions: [enter, reach('linePrimed')] },
      },
    },
    linePrimed: {
      on: {
        ...always,
        ...stop,
        ...checks,
        ...expiry,
        line: { guard: 'mayStateLine', actions: enter },
        'start-pump': { guard: 'mayStartPump', target: 'infusing', actions: [enter, reach('infusing')] },
      },
    },
    infusing: {
      initial: 'running',
      on: {
        ...always,
        ...stop,
        ...reactions,
        ...course,
        'set-back': { guard: 'maySetBack', actions: enter },
        'begin-flush': { guard: 'mayBeginFlush', target: 'flushing', actions: [enter, reach('flushing')] },
      },
      states: {
        running: {
          on: {
            hold: { guard: 'mayHold', target: 'held', actions: enter },
            trouble: { guard: 'mayMeetTrouble', target: 'held', actions: enter },
          },
        },
        held: { on: { ...trouble, resume: { guard: 'mayResume', target: 'running', actions: enter } } },
      },
    },
    flushing: {
      on: {
        ...always,
        ...stop,
        ...reactions,
        ...course,
        ...trouble,
        'flush-due': { actions: enter },
        'end-flush': { guard: 'mayEndFlush', target: 'waitingForLight', actions: [enter, reach('waitingForLight')] },
      },
    },
    waitingForLight: {
      on: {
        ...always,
        ...stop,
        ...checks,
        ...reactions,
        ...course,
        ...trouble,
        'read-back': { guard: 'mayReadBack', actions: enter },
        'beam-on': { guard: 'mayBeamOn', target: 'lightDelivery', actions: [enter, reach('lightDelivery')] },
      },
    },
    lightDelivery: {
      initial: 'beamOn',
      on: {
        ...always,
        ...stop,
        ...checks,
        ...reactions,
        ...course,
        'exposure-due': { actions: enter },
        'beam-set-back': { guard: 'maySetBeamBack', actions: enter },
        'read-back': { guard: 'mayReadBack', actions: enter },
        'end-light': { guard: 'mayEndLight', target: 'afterCare', actions: [enter, reach('afterCare')] },
      },
      states: {
        beamOn: {
          on: {
            'beam-off': { guard: 'mayBeamOff', target: 'beamOff', actions: enter },
            trouble: { guard: 'mayMeetTrouble', target: 'beamOff', actions: enter },
          },
        },
        beamOff: { on: { ...trouble, 'beam-on': { guard: 'mayBeamOn', target: 'beamOn', actions: enter } } },
      },
    },
    afterCare: {
      on: {
        ...always,
        ...stop,
        ...checks,
        ...reactions,
        ...trouble,
        review: { guard: 'maySetReview', actions: enter },
        discharge: { guard: 'mayDischarge', target: 'discharged', actions: [enter, reach('discharged')] },
      },
    },
    stoppedEarly: {
      id: 'stoppedEarly',
      entry: reach('stoppedEarly'),
      on: {
        ...always,
        ...checks,
        ...reactions,
        review: { guard: 'maySetReview', actions: enter },
        discharge: { guard: 'mayDischarge', target: 'discharged', actions: [enter, reach('discharged')] },
      },
    },
    discharged: {
      on: { addendum: { guard: 'mayAdd', actions: enter } },
    },
  },
});

function emptyRecord({ sessionId, practice, settings = DEFAULT_SETTINGS, at, by }: SessionInput): SessionRecord {
  return {
    sessionId,
    practice,
    settings,
    boot: at.boot,
    rebased: false,
    patient: null,
    order: null,
    screening: null,
    measured: null,
    plan: null,
    secondCheck: null,
    differed: 0,
    checks: {},
    reconstitutedAtMs: null,
    reconstitutedWallMs: null,
    drug: null,
    line: null,
    course: null,
    rung: {},
    cuesSounded: [],
    cuesHeard: [],
    readBacks: {},
    reactions: [],
    review: null,
    troubles: [],
    sleeps: [],
    deviations: [],
    notes: [],
    stopped: null,
    reached: [{ state: 'planning', by, atMs: at.continuousMs, wallMs: at.wallMs, offsetMin: at.offsetMin }],
  };
}
