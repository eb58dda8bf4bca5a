import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CUE_TABLE, type CueId } from '../../core/procedure/cue-table.ts';
import { type Cue, cuesOf } from '../../core/procedure/cues.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import type { SessionRecord } from '../../core/procedure/record.ts';
import type { Session } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  beamOff,
  beamOn,
  flushing,
  give,
  held,
  inAfterCare,
  infusing,
  momentAt,
  planned,
  play,
  prepared,
  primed,
  ring,
  stepsBefore,
  stopped,
  T0_AT_MS,
  TWO_EYES,
  waiting,
} from '../session-steps.ts';

const minute = (minutes: number): number => T0_AT_MS + minutes * 60_000;
const second = (minutes: number, seconds: number): number => minute(minutes) + seconds * 1000;

const viewAt = (session: Session, atMs: number) => viewOf(ring(session, atMs).context, 1, momentAt(atMs));
const cuesAt = (session: Session, atMs: number): Cue[] => cuesOf(viewAt(session, atMs));

/** Each cue's first instant, in minutes from T0; those of the drug's own clock left out. */
const minutesAt = (session: Session, atMs: number): [string, number][] =>
  cuesAt(session, atMs)
    .filter(({ id, repeat }) => repeat === 0 && !id.startsWith('drug-expiry'))
    .map(({ id, dueAtMs }) => [id, (dueAtMs - T0_AT_MS) / 60_000]);

const only = (cues: readonly Cue[], id: CueId): number[] =>
  cues.filter((cue) => cue.id === id).map(({ dueAtMs }) => (dueAtMs - T0_AT_MS) / 1000);

const LIGHT_CUES = [
  ['light-window-2min', 13],
  ['light-window-1min', 14],
  ['light-window-open', 15],
];

describe('while the infusion runs', () => {
  test('its end and the light window have cues, all counted from T0', () => {
    expect(minutesAt(infusing(), minute(1))).toEqual([['infusion-end', 10], ...LIGHT_CUES]);
  });

  test('a hold takes the infusion cue away and leaves those of the light', () => {
    expect(minutesAt(held(), minute(4))).toEqual(LIGHT_CUES);
  });

  test('after a hold of 3 min the infusion cue comes 3 min later and those of the light as before', () => {
    const resumed = give(held(), { kind: 'resume' }, minute(5));
    expect(minutesAt(resumed, minute(6))).toEqual([
      ['infusion-end', 13],
      ['light-window-2min', 13],
      ['light-window-1min', 14],
      ['light-window-open', 15],
    ]);
  });

  test('a start set back by 8 s brings every cue counted from T0 forward by 8 s, repeats too', () => {
    const fromT0 = (cues: readonly Cue[]) => cues.filter(({ id }) => !id.startsWith('drug-expiry'));
    const before = fromT0(cuesAt(infusing(TWO_EYES), minute(1)));
    const setBack = fromT0(cuesAt(give(infusing(TWO_EYES), { kind: 'set-back', agoS: 8 }, minute(0.5)), minute(1)));
    expect(setBack.map(({ id, dueAtMs }) => [id, dueAtMs])).toEqual(
      before.map(({ id, dueAtMs }) => [id, dueAtMs - 8000]),
    );
  });

  test('cues come earliest first, each under a name of its own', () => {
    const cues = cuesAt(infusing(TWO_EYES), minute(1));
    expect(cues.map(({ dueAtMs }) => dueAtMs)).toEqual(cues.map(({ dueAtMs }) => dueAtMs).sort((a, b) => a - b));
    expect(new Set(cues.map(({ key }) => key)).size).toBe(cues.length);
  });
});

describe('the drug in use', () => {
  /** Reconstituted 10 min before T0 in these courses. */
  const expiresAtMs = minute(-10) + 4 * 3_600_000;
  const ids = (session: Session) =>
    cuesAt(session, minute(1)).flatMap(({ id, dueAtMs }) => (id.startsWith('drug-expiry') ? [[id, dueAtMs]] : []));
  const both = [
    ['drug-expiry-30min', expiresAtMs - 1_800_000],
    ['drug-expiry', expiresAtMs],
  ];

  test('has its cues from the moment it is made up until the pump is off', () => {
    expect(ids(planned())).toEqual([]);
    expect(ids(prepared())).toEqual(both);
    expect(ids(primed())).toEqual(both);
    expect(ids(held())).toEqual(both);
    expect(ids(flushing())).toEqual([]);
  });
});

describe('around the flush and the light', () => {
  test('once the pump is off, the infusion has no cue, and the flush has', () => {
    expect(minutesAt(flushing(), minute(10.2))).toEqual([['flush-end', 11], ...LIGHT_CUES]);
    expect(minutesAt(waiting(), minute(12))).toEqual(LIGHT_CUES);
  });

  test('the end of the light is due as long after beam on as ordered', () => {
    expect(only(cuesAt(beamOn(), minute(15.5)), 'exposure-end')[0]).toBe(15 * 60 + 83);
  });

  test('light that was broken off has its end as much later as the beam was off', () => {
    const off = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, second(15, 30));
    expect(only(cuesAt(off, minute(16)), 'exposure-end')).toEqual([]);
    const again = give(off, { kind: 'beam-on', eye: 'right' }, second(15, 50));
    expect(only(cuesAt(again, minute(16)), 'exposure-end')[0]).toBe(15 * 60 + 103);
  });

  test('light beyond the ordered seconds is at its end from its beginning', () => {
    const reason = { override: { reason: 'the physician asks for more' } };
    const more = give(beamOff(), { kind: 'beam-on', eye: 'right', ...reason }, minute(17));
    expect(only(cuesAt(more, minute(17)), 'exposure-end')[0]).toBe(17 * 60);
  });

  test('with the beam on, nothing is said of the window any more', () => {
    expect(cuesAt(beamOn(), minute(15.1)).map(({ id }) => id)).not.toContain('light-window-open');
    const early = give(
      waiting(),
      { kind: 'beam-on', eye: 'right', override: { reason: 'told to begin' } },
      minute(12.5),
    );
    expect(cuesAt(early, minute(12.6)).filter(({ id }) => id.startsWith('light-window'))).toEqual([]);
  });

  test('a second eye is warned of 1 min before its limit and at it, until its light begins', () => {
    const warned = (session: Session, atMs: number) =>
      minutesAt(session, atMs).filter(([id]) => id.startsWith('second-eye'));
    const both = [
      ['second-eye-1min', 19],
      ['second-eye-limit', 20],
    ];
    expect(warned(infusing(TWO_EYES), minute(1))).toEqual(both);
    expect(warned(beamOff(TWO_EYES), minute(17))).toEqual(both);
    const reason = { override: { reason: 'the physician says so' } };
    const begun = give(beamOff(TWO_EYES), { kind: 'beam-on', eye: 'left', ...reason }, minute(17));
    expect(warned(begun, minute(17.2))).toEqual([]);
    expect(warned(infusing(), minute(1))).toEqual([]);
  });

  test('where the eye matters its name is in front', () => {
    const words = cuesAt(beamOn(TWO_EYES), minute(15.5)).find(({ id }) => id === 'exposure-end')?.words;
    expect(words).toBe('right eye: light at its end');
  });
});

test('there is no cue before the drug is made up, nor once the light is done or the session stopped', () => {
  expect(cuesAt(planned(), T0_AT_MS)).toEqual([]);
  expect(cuesAt(inAfterCare(), minute(20))).toEqual([]);
  expect(cuesAt(stopped(infusing(), minute(2)), minute(3))).toEqual([]);
});

test('wherever a session waits for an instant, a cue sounds at it, until both eyes have begun', () => {
  const told = (record: SessionRecord): unknown[] =>
    duesOf(record).filter(({ kind, dueAtMs }) => {
      const cues = cuesOf(viewOf(record, 1, momentAt(dueAtMs)));
      return !cues.some((cue) => cue.dueAtMs === dueAtMs && CUE_TABLE[cue.id].of === kind);
    });
  const steps = [...stepsBefore('beam-on:left', TWO_EYES).map(({ name }) => name), 'beam-on:left'];
  for (const step of steps) {
    const { context } = play(stepsBefore(step, TWO_EYES));
    expect([step, told(context)]).toEqual([step, []]);
  }
});

test('whatever is held, resumed and set back, every cue keeps its distance to the instant it belongs to', () => {
  const seconds = fc.integer({ min: 1, max: 500 });
  fc.assert(
    fc.property(seconds, seconds, fc.integer({ min: 1, max: 120 }), (heldAfterS, heldForS, agoS) => {
      const heldAtMs = T0_AT_MS + heldAfterS * 1000;
      const resumedAtMs = heldAtMs + heldForS * 1000;
      const resumed = give(held(TWO_EYES, heldAtMs), { kind: 'resume' }, resumedAtMs);
      const session = give(resumed, { kind: 'set-back', agoS }, resumedAtMs + 1000);
      const view = viewAt(session, resumedAtMs + 1000);
      const { course } = view;
      const due = {
        'infusion-end': course?.infusionDueAtMs,
        'light-window-2min': (course?.lightDueAtMs ?? 0) - 120_000,
        'light-window-1min': (course?.lightDueAtMs ?? 0) - 60_000,
        'light-window-open': course?.lightDueAtMs,
        'second-eye-1min': (course?.secondEyeDueAtMs ?? 0) - 60_000,
        'second-eye-limit': course?.secondEyeDueAtMs,
      };
      const firsts = cuesOf(view).filter(({ id, repeat }) => repeat === 0 && id in due);
      expect(Object.fromEntries(firsts.map(({ id, dueAtMs }) => [id, dueAtMs]))).toEqual(due);
    }),
    { numRuns: 40 },
  );
});
