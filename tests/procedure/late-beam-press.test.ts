import { describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import type { Beam } from '../../core/procedure/exposure.ts';
import type { Session } from '../../core/procedure/session.ts';
import {
  atOf,
  beamOff,
  beamOn,
  after as doneTo,
  give,
  infusing,
  LEFT,
  missing,
  OPERATOR,
  opened,
  play,
  RIGHT,
  readyFor,
  stepsBefore,
  T0_AT_MS,
  TWO_EYES,
} from '../session-steps.ts';

const ON_AT_MS = atOf('beam-on:right');
const OFF: Command = { kind: 'beam-off', endedByLaser: false };
const ON: Command = { kind: 'beam-on', eye: 'right' };
const IMPOSSIBLE = 'that would be before the light could have been: look at the seconds again';

const setBack = (edge: 'on' | 'off', agoS: number): Command => ({ kind: 'beam-set-back', edge, agoS });
const beamsOf = ({ context }: Session, eye = 0): readonly Beam[] => context.course?.exposures[eye]?.beams ?? [];

describe('a beam went off before the key', () => {
  const off = (): Session => give(beamOn(), OFF, ON_AT_MS + 30_000, OPERATOR);

  test('but not before it was on: down to that instant it can be set back, and no further', () => {
    expect(missing(off(), setBack('off', 30), ON_AT_MS + 31_000)).toEqual([]);
    expect(missing(off(), setBack('off', 30.001), ON_AT_MS + 31_000)).toEqual([IMPOSSIBLE]);
  });

  test('while it is still on there is no such key to set back', () => {
    expect(missing(beamOn(), setBack('off', 5), ON_AT_MS + 31_000)).toEqual(['the beam is still on']);
  });
});

describe('a beam went on before the key', () => {
  test('but not before the flush had ended', () => {
    const early = { ...ON, override: { reason: 'the physician asks for it' } } as Command;
    const flushEndMs = atOf('end-flush');
    const session = give(readyFor('read-back:right'), early, flushEndMs + 40_000, OPERATOR);
    expect(missing(session, setBack('on', 40), flushEndMs + 41_000)).toEqual([]);
    expect(missing(session, setBack('on', 41), flushEndMs + 41_000)).toEqual([IMPOSSIBLE]);
  });

  test('nor before the stretch of light before it had ended', () => {
    const off = give(beamOn(), OFF, ON_AT_MS + 30_000, OPERATOR);
    const again = give(off, ON, ON_AT_MS + 40_000, OPERATOR);
    expect(missing(again, setBack('on', 10), ON_AT_MS + 41_000)).toEqual([]);
    expect(missing(again, setBack('on', 11), ON_AT_MS + 41_000)).toEqual([IMPOSSIBLE]);
  });

  test('nor before a stretch that ended in the very instant of its own key', () => {
    const off = give(beamOn(), OFF, ON_AT_MS + 30_000, OPERATOR);
    const again = give(off, ON, ON_AT_MS + 30_000, OPERATOR);
    expect(missing(again, setBack('on', 1), ON_AT_MS + 41_000)).toEqual([IMPOSSIBLE]);
  });

  test('nor before the light of the other eye had ended', () => {
    const second = doneTo('beam-on:left', TWO_EYES);
    const firstOffMs = beamsOf(second)[0]?.offAtMs ?? Number.NaN;
    const onAtMs = atOf('beam-on:left', TWO_EYES);
    const spanS = (onAtMs - firstOffMs) / 1000;
    expect(missing(second, setBack('on', spanS), onAtMs + 1000)).toEqual([]);
    expect(missing(second, setBack('on', spanS + 1), onAtMs + 1000)).toEqual([IMPOSSIBLE]);
  });

  test('and off again since: what came after it does not hold it back', () => {
    const agoS = (ON_AT_MS - atOf('end-flush')) / 1000;
    const session = play(stepsBefore('end-light'), opened({ latePressS: 300 }));
    expect(missing(session, setBack('on', agoS), atOf('end-light'))).toEqual([]);
    expect(missing(session, setBack('on', agoS + 1), atOf('end-light'))).toEqual([IMPOSSIBLE]);
  });
});

describe('together no more than the site allows', () => {
  test('of one key, counted over all its corrections', () => {
    const once = give(beamOff(), setBack('on', 70), atOf('beam-off:right') + 1000);
    expect(missing(once, setBack('on', 50), atOf('beam-off:right') + 2000)).toEqual([]);
    expect(missing(once, setBack('on', 50.5), atOf('beam-off:right') + 2000)).toEqual([
      'at most 120 s can be set back at this site: enter more as a deviation',
    ]);
  });
});

describe('the stretch that is moved is the one that began last', () => {
  test('of two of one eye, and the other stays', () => {
    const off = give(beamOn(), OFF, ON_AT_MS + 30_000, OPERATOR);
    const again = give(off, ON, ON_AT_MS + 40_000, OPERATOR);
    const [first] = beamsOf(again);
    const session = give(again, setBack('on', 5), ON_AT_MS + 41_000, OPERATOR);
    expect(beamsOf(session)).toEqual([
      first,
      { onAtMs: ON_AT_MS + 35_000, offAtMs: null, setBackS: { on: 5, off: 0 } },
    ]);
  });

  test('of two that began in the same instant, the one that was pressed last', () => {
    const off = give(give(beamOn(), OFF, ON_AT_MS, OPERATOR), ON, ON_AT_MS, OPERATOR);
    const session = give(give(off, OFF, ON_AT_MS + 9000, OPERATOR), setBack('off', 3), ON_AT_MS + 10_000, OPERATOR);
    expect(beamsOf(session).map(({ onAtMs, offAtMs }) => [onAtMs - ON_AT_MS, (offAtMs ?? 0) - ON_AT_MS])).toEqual([
      [0, 0],
      [0, 6000],
    ]);
  });

  test('of two eyes, whichever of them was ordered first', () => {
    const other = { kind: 'beam-on', eye: LEFT.eye, override: { reason: 'the right eye is not ready' } } as const;
    let session = give(readyFor('beam-on:right', [], TWO_EYES), other, ON_AT_MS, OPERATOR);
    session = give(session, OFF, ON_AT_MS + 83_000, OPERATOR);
    session = give(session, { ...ON, eye: RIGHT.eye } as Command, ON_AT_MS + 100_000, OPERATOR);
    const left = beamsOf(session, 1);
    session = give(session, setBack('on', 5), ON_AT_MS + 101_000, OPERATOR);
    expect(beamsOf(session, 1)).toEqual(left);
    expect(beamsOf(session, 0)[0]?.onAtMs).toBe(ON_AT_MS + 95_000);
  });
});

test('before any beam there is none to set back', () => {
  expect(missing(infusing(), setBack('on', 5), T0_AT_MS + 1000)).toEqual([
    'possible only in: light delivery; this session is in: infusing',
  ]);
});
