import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { CUE_IDS, CUE_TABLE, type CueId } from '../../core/procedure/cue-table.ts';
import { type Cue, cuesOf } from '../../core/procedure/cues.ts';
import { duesOf } from '../../core/procedure/dues.ts';
import { eventOf } from '../../core/procedure/events.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { flushing, give, held, infusing, missing, momentAt, ring, T0_AT_MS, TWO_EYES } from '../session-steps.ts';

const minute = (minutes: number): number => T0_AT_MS + minutes * 60_000;
const second = (minutes: number, seconds: number): number => minute(minutes) + seconds * 1000;

const viewAt = (session: Session, atMs: number) => viewOf(ring(session, atMs).context, 1, momentAt(atMs));
const cuesAt = (session: Session, atMs: number): Cue[] => cuesOf(viewAt(session, atMs));

/** Every instant of one cue, in seconds from T0. */
const only = (cues: readonly Cue[], id: CueId): number[] =>
  cues.filter((cue) => cue.id === id).map(({ dueAtMs }) => (dueAtMs - T0_AT_MS) / 1000);

const heard = (cue: CueId): Command => ({ kind: 'cue-heard', cue });

/** The session once the window that sounds cues has said what became of one. */
function sounded(session: Session, cue: CueId, dueAtMs: number): Session {
  const content = { kind: 'cue-sounded', cue, dueAtMs, outcome: 'sounded', lateMs: 0 } as const;
  const rung = ring(session, dueAtMs);
  const next = sessionAfter(rung, eventOf(content, {}, momentAt(dueAtMs + 20), STATION_AUTHOR));
  if (next === null) throw new Error('what became of a cue can be entered');
  return next;
}

describe('repeats', () => {
  test('the end of the infusion is repeated every 15 s, from its due instant on, until the pump is off', () => {
    const repeats = only(cuesAt(infusing(), minute(10.1)), 'infusion-end');
    expect(repeats.slice(0, 3)).toEqual([600, 615, 630]);
    expect(repeats).toHaveLength(20);
    expect(only(cuesAt(flushing(), minute(10.1)), 'infusion-end')).toEqual([]);
  });

  test('what is still to come is told once', () => {
    const cues = cuesAt(infusing(TWO_EYES), minute(1));
    for (const id of CUE_IDS.filter((one) => CUE_TABLE[one].aheadMs > 0)) {
      expect([id, cues.filter((cue) => cue.id === id).length]).toEqual([id, 1]);
    }
  });

  test('somebody says it was heard: it is not repeated, and everything else is', () => {
    const hushed = give(infusing(), heard('infusion-end'), second(10, 20));
    const cues = cuesAt(hushed, second(10, 21));
    expect(only(cues, 'infusion-end')).toEqual([]);
    expect(only(cues, 'light-window-open')).toHaveLength(4);
  });

  test('hushed means this time: after a hold the infusion is told to be at its end anew', () => {
    const hushed = give(infusing(), heard('infusion-end'), second(10, 20));
    const ran = give(hushed, { kind: 'hold', reason: 'pump' }, second(10, 40));
    expect(only(cuesAt(ran, second(10, 41)), 'infusion-end')).toEqual([]);
    const more = give(ran, { kind: 'resume' }, second(12, 0));
    expect(only(cuesAt(more, second(12, 1)), 'infusion-end')[0]).toBe(680);
  });

  test('a start set back after the hush does not bring the repeats back', () => {
    const hushed = give(infusing(), heard('infusion-end'), second(10, 20));
    expect(
      only(cuesAt(give(hushed, { kind: 'set-back', agoS: 15 }, second(10, 25)), second(10, 26)), 'infusion-end'),
    ).toEqual([]);
  });

  test('they can be hushed from the instant they are due until there is none left, and not when nothing repeats', () => {
    const isOpen = (atMs: number) => missing(infusing(), heard('infusion-end'), atMs).length === 0;
    expect([second(9, 59), minute(10), second(14, 44), second(14, 46)].map(isOpen)).toEqual([false, true, true, false]);
    expect(missing(infusing(), heard('light-window-2min'), minute(13))).toEqual([
      'no cue is being repeated, so there is none to hush',
    ]);
  });

  test('the screens are told what can be hushed now, the one that began last first', () => {
    expect(viewAt(infusing(), minute(9)).hushable).toEqual([]);
    expect(viewAt(infusing(), minute(10)).hushable).toEqual([
      { cue: 'infusion-end', words: 'infusion at its end: pump off' },
    ]);
    const late = give(held(TWO_EYES, minute(9)), { kind: 'resume' }, minute(14.5));
    expect(viewAt(late, minute(15.6)).hushable.map(({ cue }) => cue)).toEqual(['infusion-end', 'light-window-open']);
    expect(viewAt(late, minute(15.6)).commands['cue-heard']?.open).toBe(true);
  });
});

describe('what became of a cue', () => {
  test('a cue that is entered, and those of its kind before it, are in the list no more', () => {
    const told = sounded(infusing(), 'infusion-end', second(10, 15));
    expect(only(cuesAt(told, second(10, 16)), 'infusion-end')[0]).toBe(630);
    expect(only(cuesAt(told, second(10, 16)), 'light-window-open')).toHaveLength(4);
  });

  test('set back after it sounded, it is not told a second time for the earlier instant', () => {
    const told = give(sounded(infusing(), 'infusion-end', minute(10)), { kind: 'set-back', agoS: 8 }, second(10, 2));
    expect(only(cuesAt(told, second(10, 3)), 'infusion-end')[0]).toBe(607);
  });

  test('moved to a later instant, it is told again', () => {
    const told = give(sounded(infusing(), 'infusion-end', minute(10)), { kind: 'hold', reason: 'pump' }, second(10, 1));
    const resumed = give(told, { kind: 'resume' }, minute(11));
    expect(only(cuesAt(resumed, minute(11)), 'infusion-end')[0]).toBe(659);
  });

  test('it changes neither state nor timers, nor what may be done', () => {
    const without = infusing();
    const rung = ring(without, minute(10));
    const told = sounded(without, 'infusion-end', minute(10));
    const seen = (session: Session) => {
      const { cues: _cues, ...rest } = viewAt(session, second(10, 1));
      return rest;
    };
    expect(seen(told)).toEqual(seen(rung));
    expect(duesOf(told.context)).toEqual(duesOf(rung.context));
  });
});

describe('after a reboot, when every instant is moved onto the new clock', () => {
  const shiftMs = -3_000_000.5;
  const rebased = (session: Session): Session => {
    const content = { kind: 'rebase', fromBoot: 'boot-one', toBoot: 'boot-two', shiftMs } as const;
    const next = sessionAfter(session, eventOf(content, {}, momentAt(T0_AT_MS), STATION_AUTHOR));
    if (next === null) throw new Error('instants can be moved wherever a session stands');
    return next;
  };
  const seenAt = (session: Session, atMs: number): Cue[] =>
    cuesOf(viewOf(session.context, 1, momentAt(atMs + shiftMs)));

  test('cues move with their instants, and what was told of or hushed stays so', () => {
    const told = sounded(infusing(), 'infusion-end', minute(10));
    expect(seenAt(rebased(told), second(10, 1)).map(({ dueAtMs }) => dueAtMs - shiftMs)).toEqual(
      cuesAt(told, second(10, 1)).map(({ dueAtMs }) => dueAtMs),
    );
    const hushed = give(infusing(), heard('infusion-end'), second(10, 20));
    expect(seenAt(rebased(hushed), second(10, 21)).map(({ id }) => id)).not.toContain('infusion-end');
  });
});
