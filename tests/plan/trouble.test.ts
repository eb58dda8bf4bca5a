import { describe, expect, test } from 'vitest';
import { wordsFor } from '../../core/ledger/words.ts';
import type { Command } from '../../core/procedure/commands.ts';
import { stateOf } from '../../core/procedure/record.ts';
import type { Session } from '../../core/procedure/session.ts';
import { STATES, type StateName } from '../../core/procedure/states.ts';
import { TROUBLE, TROUBLE_IDS, type TroubleId } from '../../core/procedure/trouble.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  atOf,
  beamOff,
  beamOn,
  discharged,
  flushing,
  give,
  held,
  inAfterCare,
  infusing,
  missing,
  momentAt,
  OPERATOR,
  planned,
  play,
  prepared,
  primed,
  readyFor,
  stopped,
  T0_AT_MS,
  waiting,
} from '../session-steps.ts';

const trouble = (card: TroubleId): Command => ({ kind: 'trouble', card });
const told = (card: TroubleId, words: string): Command => ({ kind: 'trouble-told', card, words });
const atS = (seconds: number): number => T0_AT_MS + seconds * 1000;

/** A session in each state, and an instant in it. */
const IN: Record<StateName, [Session, number]> = {
  planning: [planned(), atOf('prepare')],
  prepared: [prepared(), atOf('drug')],
  linePrimed: [primed(), atOf('line')],
  infusing: [infusing(), atS(100)],
  flushing: [flushing(), atS(610)],
  waitingForLight: [waiting(), atS(700)],
  lightDelivery: [beamOn(), atOf('beam-on:right') + 30_000],
  afterCare: [inAfterCare(), atOf('end-light') + 1000],
  discharged: [discharged(), atOf('discharge') + 1000],
  stoppedEarly: [stopped(infusing(), atS(100)), atS(110)],
};

/** Which card is for where: written down once more, so that a card that strays is seen. */
const CARDS: Record<TroubleId, StateName[]> = {
  extravasation: ['infusing', 'flushing'],
  pain: ['infusing', 'flushing'],
  'chest-or-faint': ['infusing', 'flushing', 'waitingForLight', 'lightDelivery', 'afterCare'],
  pump: ['infusing'],
  moved: ['lightDelivery'],
};

describe.each(TROUBLE_IDS)('the card %s', (card) => {
  test.each(STATES)('in %s', (state) => {
    const [session, atMs] = IN[state];
    expect(stateOf(session.context)).toBe(state);
    const offered = viewOf(session.context, 9, momentAt(atMs)).troubleCards.map((one) => one.id);
    const says = missing(session, trouble(card), atMs, OPERATOR);
    if (CARDS[card].includes(state)) {
      expect(says).toEqual([]);
      expect(offered).toContain(card);
      expect(give(session, trouble(card), atMs).context.troubles).toMatchObject([{ card, told: null }]);
    } else {
      expect(says).not.toEqual([]);
      expect(offered).not.toContain(card);
    }
  });

  test('has steps, what the record needs afterwards, and where it comes from', () => {
    const { steps, afterwards, source } = TROUBLE.find((one) => one.id === card) ?? { steps: [] };
    expect(steps.length).toBeGreaterThan(2);
    expect(afterwards).toBeTruthy();
    expect(source).toBeTruthy();
  });
});

describe('trouble while the pump runs', () => {
  test.each(TROUBLE_IDS.filter((card) => CARDS[card].includes('infusing')))(
    '(%s) holds it, and the light stays due',
    (card) => {
      const session = give(infusing(), trouble(card), atS(100));
      const { infusion, lightDueAtMs } = session.context.course ?? {};
      expect(infusion).toMatchObject({ runningSinceAtMs: null, ranBeforeMs: 100_000, pumpOffAtMs: null });
      expect(infusion?.holds).toEqual([{ heldAtMs: atS(100), reason: card, resumedAtMs: null }]);
      expect(lightDueAtMs).toBe(atS(900));
      expect(viewOf(session.context, 9, momentAt(atS(160))).course).toMatchObject({ held: true });
      const resume: Command = { kind: 'resume', override: { reason: 'the physician says so' } };
      const again = give(session, resume, atS(160));
      expect(again.context.course?.infusion).toMatchObject({ runningSinceAtMs: atS(160), ranBeforeMs: 100_000 });
    },
  );

  test('and is held already moves nothing and is entered', () => {
    const session = give(held(), trouble('pump'), atS(130));
    expect(session.context.course).toEqual(held().context.course);
    expect(session.context.troubles).toMatchObject([{ card: 'pump' }]);
  });
});

describe('trouble while the beam is on', () => {
  const onMs = atOf('beam-on:right');

  test.each(['moved', 'chest-or-faint'] as const)('(%s) takes it off, and what was given is kept', (card) => {
    const session = give(beamOn(), trouble(card), onMs + 30_000, OPERATOR);
    expect(session.context.course?.exposures[0]?.beams).toEqual([{ onAtMs: onMs, offAtMs: onMs + 30_000 }]);
    expect(missing(session, { kind: 'beam-off', endedByLaser: false }, onMs + 31_000)).toEqual(['the beam is off']);
    const again = give(session, { kind: 'beam-on', eye: 'right' }, onMs + 60_000, OPERATOR);
    const [exposure] = viewOf(again.context, 9, momentAt(onMs + 60_000)).course?.exposures ?? [];
    expect(exposure).toMatchObject({ deliveredBeforeMs: 30_000, beamOnSinceAtMs: onMs + 60_000 });
  });

  test('and is off already moves nothing', () => {
    const off = beamOff();
    const session = give(off, trouble('moved'), onMs + 90_000, OPERATOR);
    expect(session.context.course).toEqual(off.context.course);
  });
});

describe('after extravasation', () => {
  const waits = ['after extravasation: another vein, and the physician says to go on'];
  const resume: Command = { kind: 'resume' };
  const reasoned: Command = { kind: 'resume', override: { reason: 'other arm, the physician says so' } };

  test.each<[string, () => Session]>([
    ['met as trouble', () => give(infusing(), trouble('extravasation'), atS(100))],
    ['named as the reason of a hold', () => give(infusing(), { kind: 'hold', reason: 'extravasation' }, atS(100))],
    ['found while the pump was held for pain', () => give(held(), trouble('extravasation'), atS(125))],
    [
      'and another trouble on top of it',
      () => give(give(infusing(), trouble('extravasation'), atS(100)), trouble('pain'), atS(110)),
    ],
  ])('%s, the pump waits for another vein and a word of the physician', (_what, session) => {
    expect(missing(session(), resume, atS(200))).toEqual(waits);
    const again = give(session(), reasoned, atS(200));
    expect(again.context.course?.infusion.runningSinceAtMs).toBe(atS(200));
    expect(again.context.deviations.at(-1)).toMatchObject({
      words: waits[0],
      reason: 'other arm, the physician says so',
    });
  });

  test('that is over, a later hold for something else waits for nothing', () => {
    const again = give(give(infusing(), trouble('extravasation'), atS(100)), reasoned, atS(200));
    expect(missing(give(again, { kind: 'hold', reason: 'pump' }, atS(250)), resume, atS(260))).toEqual([]);
  });

  test.each(['pain', 'pump', 'chest-or-faint'] as const)('and not after %s', (card) => {
    expect(missing(give(infusing(), trouble(card), atS(100)), resume, atS(200))).toEqual([]);
  });
});

describe('what was done', () => {
  const dischargeMs = atOf('discharge');
  const withTrouble = give(readyFor('discharge'), trouble('chest-or-faint'), dischargeMs - 5000);

  test('is waited for before discharge', () => {
    expect(missing(withTrouble, { kind: 'discharge' }, dischargeMs)).toEqual([
      'chest pain, fainting, breathlessness, rash or flushing: what was done is not entered',
    ]);
    const session = give(withTrouble, told('chest-or-faint', 'lay flat, better after 5 min'), dischargeMs - 1000);
    expect(missing(session, { kind: 'discharge' }, dischargeMs)).toEqual([]);
    expect(session.context.troubles[0]?.told).toMatchObject({ words: 'lay flat, better after 5 min' });
  });

  test('is waited for before a session that was stopped early is closed', () => {
    const session = stopped(give(infusing(), trouble('extravasation'), atS(100)), atS(120));
    const says = missing(session, { kind: 'discharge' }, atS(1000));
    expect(says).toContain('swelling or leak at the vein (extravasation): what was done is not entered');
    const after = give(session, told('extravasation', 'cold compress, covered'), atS(500));
    expect(missing(after, { kind: 'discharge' }, atS(1000)).join(' ')).not.toContain('what was done');
  });

  test('may be left out with a reason, which stands among the deviations', () => {
    const session = give(withTrouble, { kind: 'discharge', override: { reason: 'written in the notes' } }, dischargeMs);
    expect(session.context.deviations.at(-1)?.reason).toBe('written in the notes');
  });

  test('is not told of trouble that was not met', () => {
    expect(missing(withTrouble, told('pain', 'in the back'), dischargeMs)).toEqual([
      'no such trouble was entered in this session',
    ]);
  });

  test('of a second trouble of the same kind does not stand in for the first, nor write over it', () => {
    let session = give(infusing(), trouble('pain'), atS(100));
    session = give(session, told('pain', 'in the back, gone at once'), atS(110));
    session = give(session, { kind: 'resume' }, atS(120));
    session = give(session, trouble('pain'), atS(130));
    session = give(session, told('pain', 'in the arm, no swelling'), atS(140));
    expect(session.context.troubles.map((one) => one.told?.words)).toEqual([
      'in the back, gone at once',
      'in the arm, no swelling',
    ]);
  });

  test('is in words in the ledger, as the trouble is', () => {
    expect(wordsFor({ kind: 'trouble', payload: { card: 'pump' } })).toBe('trouble: pump alarm, occlusion or stop');
    expect(wordsFor({ kind: 'trouble-told', payload: { card: 'pump', words: 'a kink' } })).toBe(
      'about pump alarm, occlusion or stop: a kink',
    );
  });

  test('is shown beside its trouble', () => {
    const session = play([], give(withTrouble, told('chest-or-faint', 'lay flat'), dischargeMs - 1000));
    expect(viewOf(session.context, 9, momentAt(dischargeMs)).troubles).toMatchObject([
      { card: { id: 'chest-or-faint' }, told: 'lay flat' },
    ]);
  });
});
