import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { instantAwaited, openOccurrences, repeatingNow } from '../../core/procedure/cue-occurrences.ts';
import type { CueId } from '../../core/procedure/cue-table.ts';
import { cuesOf } from '../../core/procedure/cues.ts';
import { eventOf } from '../../core/procedure/events.ts';
import { STATION_AUTHOR } from '../../core/procedure/person.ts';
import { type Session, sessionAfter } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  atOf,
  beamOn,
  flushing,
  give,
  held,
  infusing,
  missing,
  momentAt,
  OPERATOR,
  planned,
  ring,
  T0_AT_MS,
  TWO_EYES,
} from '../session-steps.ts';

const fromT0 = (seconds: number): number => T0_AT_MS + seconds * 1000;
const heard = (cue: CueId): Command => ({ kind: 'cue-heard', cue });
const viewAt = (session: Session, atMs: number) => viewOf(ring(session, atMs).context, 1, momentAt(atMs));

/** The session once the window that sounds cues has said what became of one. */
function sounded(session: Session, cue: CueId, dueAtMs: number): Session {
  const content = { kind: 'cue-sounded', cue, dueAtMs, outcome: 'sounded', lateMs: 0 } as const;
  const next = sessionAfter(ring(session, dueAtMs), eventOf(content, {}, momentAt(dueAtMs), STATION_AUTHOR));
  if (next === null) throw new Error('what became of a cue can be entered');
  return next;
}

describe('what became of a cue is entered', () => {
  const end = fromT0(600);

  test('at the instant the session knows, though the window says it some milliseconds off', () => {
    const { context } = ring(infusing(), end);
    expect([-51, -50, 0, 50, 51].map((offMs) => instantAwaited(context, 'infusion-end', end + offMs))).toEqual([
      null,
      end,
      end,
      end,
      null,
    ]);
  });

  test('for each repeat, and for nothing between two of them', () => {
    const { context } = ring(infusing(), end);
    expect(instantAwaited(context, 'infusion-end', fromT0(615))).toBe(fromT0(615));
    expect(instantAwaited(context, 'infusion-end', fromT0(607))).toBeNull();
  });

  test('under its own name only', () => {
    const { context } = ring(infusing(), end);
    expect(instantAwaited(context, 'flush-end', end)).toBeNull();
    expect(instantAwaited(context, 'light-window-open', end)).toBeNull();
    expect(instantAwaited(planned().context, 'infusion-end', end)).toBeNull();
  });

  test('once: told again it is not awaited, and the next repeat and other cues are', () => {
    const { context } = sounded(infusing(), 'infusion-end', end);
    expect(instantAwaited(context, 'infusion-end', end + 40)).toBeNull();
    expect(instantAwaited(context, 'infusion-end', fromT0(615))).toBe(fromT0(615));
    expect(instantAwaited(context, 'light-window-open', fromT0(900))).toBe(fromT0(900));
  });

  test('though another cue that is due in the same instant was told already', () => {
    const resumed = give(held(), { kind: 'resume' }, fromT0(180));
    const { context } = sounded(resumed, 'infusion-end', fromT0(900));
    expect(instantAwaited(context, 'infusion-end', fromT0(900))).toBeNull();
    expect(instantAwaited(context, 'light-window-open', fromT0(900))).toBe(fromT0(900));
  });

  test('also where the pump went off before the window could say so', () => {
    const { context } = ring(flushing(), fromT0(601));
    expect(instantAwaited(context, 'infusion-end', end)).toBe(end);
    const early = give(infusing(), { kind: 'hold', reason: 'pump' }, fromT0(300));
    expect(instantAwaited(early.context, 'infusion-end', end)).toBeNull();
  });

  test('for the end of a stretch of light that was broken off, where it would have been', () => {
    const onAtMs = atOf('beam-on:right');
    const off = give(beamOn(), { kind: 'beam-off', endedByLaser: false }, onAtMs + 30_000, OPERATOR);
    expect(instantAwaited(off.context, 'exposure-end', onAtMs + 83_000)).toBe(onAtMs + 83_000);
    expect(instantAwaited(off.context, 'exposure-end', onAtMs + 53_000)).toBeNull();
  });
});

describe('until when a cue has sounded', () => {
  const untilOf = (session: Session, cue: CueId, atMs: number) =>
    viewAt(session, atMs).cues.find((one) => one.cue === cue)?.soundedUntilAtMs;

  test('is the latest of its instants, in whatever order they were told, and of no other cue', () => {
    let session = sounded(infusing(), 'infusion-end', fromT0(615));
    session = sounded(session, 'infusion-end', fromT0(600));
    session = sounded(session, 'light-window-2min', fromT0(780));
    expect(untilOf(session, 'infusion-end', fromT0(780))).toBe(fromT0(615));
    expect(untilOf(session, 'light-window-2min', fromT0(780))).toBe(fromT0(780));
    expect(untilOf(session, 'light-window-open', fromT0(780))).toBeNull();
  });

  test('nearer than 50 ms to it is the same instant and not told again; further off is another', () => {
    const next = (offMs: number) => {
      const session = sounded(infusing(), 'infusion-end', fromT0(600) - offMs);
      return cuesOf(viewAt(session, fromT0(601))).find(({ id }) => id === 'infusion-end')?.dueAtMs;
    };
    expect([49, 50, 51].map(next)).toEqual([fromT0(615), fromT0(615), fromT0(600)]);
  });

  test('where nothing is known, all is to be told, also what was due before a new boot began', () => {
    const content = { kind: 'rebase', fromBoot: 'boot-one', toBoot: 'boot-two', shiftMs: -fromT0(601) } as const;
    const rung = ring(infusing(), fromT0(601));
    const rebased = sessionAfter(rung, eventOf(content, {}, momentAt(fromT0(601)), STATION_AUTHOR));
    if (rebased === null) throw new Error('instants can be moved wherever a session stands');
    const cues = cuesOf(viewOf(rebased.context, 1, momentAt(0)));
    expect(cues.find(({ id }) => id === 'infusion-end')?.dueAtMs).toBe(-1000);
  });
});

describe('a cue that is hushed', () => {
  test('in the very instant it begins is hushed', () => {
    const session = give(infusing(), heard('infusion-end'), fromT0(600));
    expect(openOccurrences(session.context).map(({ cue }) => cue)).not.toContain('infusion-end');
  });

  test('leaves another that is being repeated', () => {
    const late = give(held(TWO_EYES, fromT0(540)), { kind: 'resume' }, fromT0(870));
    const hushed = give(late, heard('infusion-end'), fromT0(936));
    expect(repeatingNow(late.context, fromT0(936)).map(({ cue }) => cue)).toEqual([
      'infusion-end',
      'light-window-open',
    ]);
    expect(repeatingNow(hushed.context, fromT0(937)).map(({ cue }) => cue)).toEqual(['light-window-open']);
  });

  test('can be hushed no more at its last instant: it would not sound again', () => {
    expect(missing(infusing(), heard('infusion-end'), fromT0(885) - 1)).toEqual([]);
    expect(missing(infusing(), heard('infusion-end'), fromT0(885))).not.toEqual([]);
  });

  test('of two that are being repeated, the one that began last is offered first', () => {
    const resumed = give(held(TWO_EYES, fromT0(540)), { kind: 'resume' }, fromT0(660));
    expect(viewAt(resumed, fromT0(905)).hushable.map(({ cue }) => cue)).toEqual(['light-window-open', 'infusion-end']);
  });
});

test('with one of two eyes in its light, nothing is said of the window any more', () => {
  const onAtMs = atOf('beam-on:right', TWO_EYES);
  const ids = cuesOf(viewAt(beamOn(TWO_EYES), onAtMs + 1000)).map(({ id }) => id);
  expect(ids.filter((id) => id.startsWith('light-window'))).toEqual([]);
});
