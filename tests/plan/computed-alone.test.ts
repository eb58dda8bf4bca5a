import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { wordsFor } from '../../core/ledger/words.ts';
import type { Command, CommandOf } from '../../core/procedure/commands.ts';
import type { Person } from '../../core/procedure/person.ts';
import { ruleOn, type Session } from '../../core/procedure/session.ts';
import { tasksOf } from '../../core/procedure/tasks.ts';
import { viewOf } from '../../core/procedure/view.ts';
import {
  atOf,
  commandOf,
  give,
  LEFT,
  type LesionOnRetina,
  missing,
  momentAt,
  NURSE,
  OPENED_AT_MS,
  opened,
  orderOf,
  play,
  RIGHT,
  readyFor,
  SECOND_NURSE,
  stepsBefore,
} from '../session-steps.ts';

const PHYSICIAN: Person = { initials: 'LB', role: 'physician' };
const SECOND: CommandOf<'second-check'> = {
  kind: 'second-check',
  heightCm: 168,
  weightKg: 71.5,
  regimenId: 'label',
  lesions: [RIGHT],
};
const atMs = atOf('prepare') - 10_000;
const ready = readyFor('second-check');
const secondBy = (second: Command, session = ready, by: Person = SECOND_NURSE) => give(session, second, atMs, by);
const prepareSays = (session: Session) => missing(session, commandOf('prepare'), atOf('prepare'));

describe('a difference', () => {
  const session = secondBy({ ...SECOND, weightKg: 81.5, lesions: [{ ...RIGHT, gldUm: 2700 }] });

  test('stands side by side, with what each of the two has', () => {
    expect(session.context.secondCheck?.differences).toEqual([
      { what: 'weight, kg', first: '71.5', second: '81.5' },
      { what: 'eyes and lesions, µm', first: 'right 2600', second: 'right 2700' },
      { what: 'dose, mg', first: '10.9599', second: '11.7013' },
      { what: 'drug, mL', first: '5.5', second: '5.9' },
    ]);
    expect(viewOf(session.context, 7, momentAt(atMs)).differences).toEqual(session.context.secondCheck?.differences);
  });

  test('is in words in the task, in what the drug waits for, and in the entry', () => {
    const words = 'weight, kg: first 71.5, second 81.5';
    const task = tasksOf(session.context, atMs).find((one) => one.id === 'second-check');
    expect(task?.trouble).toContain(`differs: ${words}`);
    expect(prepareSays(session)).toEqual([expect.stringContaining(`the two computations differ: ${words}`)]);
    const found = { agrees: false, differences: session.context.secondCheck?.differences };
    expect(wordsFor({ kind: 'second-check', payload: { ...SECOND, found } })).toContain(words);
  });

  test.each<[string, Partial<CommandOf<'second-check'>>, string, string, string]>([
    ['height', { heightCm: 169 }, 'height, cm', '168', '169'],
    ['regimen', { regimenId: 'half-fluence' }, 'regimen', 'Label: full dose, full fluence', 'Half fluence'],
    ['eye', { lesions: [{ ...RIGHT, eye: 'left' }] }, 'eyes and lesions, µm', 'right 2600', 'left 2600'],
    ['another eye', { lesions: [RIGHT, LEFT] }, 'eyes and lesions, µm', 'right 2600', 'right 2600, then left 1850'],
    [
      'distance to the disc',
      { lesions: [{ ...RIGHT, discDistanceUm: 900 }] },
      'eyes and lesions, µm',
      'right 2600',
      'right 2600, disc at 900',
    ],
  ])('of %s is named with both values', (_what, other, what, first, second) => {
    const { differences, agrees } = secondBy({ ...SECOND, ...other }).context.secondCheck ?? {};
    expect(agrees).toBe(false);
    expect(differences).toContainEqual({ what, first, second });
  });

  test('too small to be seen when rounded is shown in full: two figures that differ never look the same', () => {
    const { differences } = secondBy({ ...SECOND, weightKg: 71.50001 }).context.secondCheck ?? {};
    expect(differences?.[0]).toEqual({ what: 'weight, kg', first: '71.5', second: '71.50001' });
    for (const { first, second } of differences ?? []) expect(first).not.toBe(second);
  });

  test('does not go away by entering the second figures again, nor with a reason', () => {
    const reasoned: Command = { kind: 'prepare', reconstitutedAgoS: 300, override: { reason: 'near enough' } };
    expect(missing(session, reasoned, atOf('prepare'))).toHaveLength(1);
    const again = secondBy({ ...SECOND, weightKg: 81.5 }, session);
    expect(prepareSays(again)).toHaveLength(1);
  });

  test('that is agreed on later stays marked: in the entry, in its words, and among the cautions', () => {
    const ruling = ruleOn(session, SECOND, momentAt(atMs + 1000), SECOND_NURSE);
    if (!ruling.taken) throw new Error('the second computation is refused');
    expect(ruling.event.found).toMatchObject({ agrees: true, afterDifference: true });
    expect(wordsFor({ kind: 'second-check', payload: { ...SECOND, found: ruling.event.found } })).toBe(
      'second computation agrees, after a difference had been shown',
    );
    const { cautions } = viewOf(ruling.session.context, 8, momentAt(atMs + 1000));
    expect(cautions.join(' ')).toContain('The two computations differed before they agreed');
    expect(prepareSays(ruling.session)).toEqual([]);
  });

  test('stays marked where the first person takes over what the second has', () => {
    const taken = give(session, { kind: 'measure', heightCm: 168, weightKg: 81.5 }, atMs);
    const ruling = ruleOn(taken, { ...SECOND, weightKg: 81.5 }, momentAt(atMs), SECOND_NURSE);
    expect(ruling.taken && ruling.event.found).toMatchObject({ agrees: true, afterDifference: true });
  });

  test('is not marked where the two agreed at once', () => {
    const ruling = ruleOn(ready, SECOND, momentAt(atMs), SECOND_NURSE);
    expect(ruling.taken && ruling.event.found).toEqual({ agrees: true, differences: [] });
  });
});

describe('the second computation is for other hands', () => {
  test.each([
    ['order', [SECOND_NURSE, NURSE]],
    ['height and weight', [NURSE, SECOND_NURSE]],
    ['both', [SECOND_NURSE, SECOND_NURSE]],
  ])('than those that entered %s', (_what, [orderer, measurer]) => {
    const hands: Record<string, Person | undefined> = { order: orderer, measure: measurer };
    const session = play(stepsBefore('second-check').map((step) => ({ ...step, by: hands[step.name] ?? step.by })));
    const refused = ['the second computation is for another person than the one who entered the first'];
    expect(missing(session, SECOND, atMs, SECOND_NURSE)).toEqual(refused);
    expect(missing(session, SECOND, atMs, { ...SECOND_NURSE, role: 'physician' })).toEqual(refused);
    expect(missing(session, SECOND, atMs, PHYSICIAN)).toEqual([]);
  });
});

/** Figures that stand nowhere else: what shows them shows what the first person entered. */
describe('until a second computation stands beside it, what the first person entered is shown nowhere', () => {
  const order = {
    ...orderOf([{ eye: 'left', gldUm: 2731, discDistanceUm: 4321 }], 'half-fluence'),
    orderedBy: 'an unmistakable physician',
    offLabelReason: 'an unmistakable reason',
  };
  const measure: Command = {
    kind: 'measure',
    heightCm: 171.3,
    weightKg: 83.7,
    typed: { height: '171,3 cm', weight: '83,7 kg' },
  };
  const steps = stepsBefore('second-check').map((step) =>
    step.name === 'order'
      ? { ...step, command: order }
      : step.name === 'measure'
        ? { ...step, command: measure }
        : step,
  );
  const second: Command = {
    kind: 'second-check',
    heightCm: 171.3,
    weightKg: 83.7,
    regimenId: 'half-fluence',
    lesions: [{ eye: 'left', gldUm: 2731, discDistanceUm: 4321 }],
  };
  const shownBy = (session: Session): string[] => told(viewOf(session.context, 9, momentAt(atMs)), session);

  /** Everything in the record that came from the first person and that a text says. */
  function told(shown: unknown, { context }: Session): string[] {
    const text = JSON.stringify(shown);
    const figures = numbersIn([context.plan, order.lesions, measure]).filter((figure) => figure.length > 2);
    const words = ['171,3', '83,7', 'Half fluence', 'half-fluence', 'unmistakable', '"left"', 'left eye'];
    return [...figures.filter((figure) => says(text, figure)), ...words.filter((word) => text.includes(word))];
  }

  test('by a view', () => {
    const session = play(steps);
    expect(session.context.plan).not.toBeNull();
    expect(shownBy(session)).toEqual([]);
  });

  test('and all of it is once there is one, so that this test can see it', () => {
    const seen = shownBy(secondBy(second, play(steps)));
    expect(seen).toEqual(expect.arrayContaining(['171.3', '83.7', '2731', 'Half fluence', '"left"', 'unmistakable']));
  });

  test('in any order in which the first entries are made, and made again', () => {
    const inPlanning = steps.map((step) => step.command);
    fc.assert(
      fc.property(fc.shuffledSubarray([...inPlanning, order, measure], { minLength: 1 }), (commands) => {
        let session = opened();
        for (const command of commands) {
          const ruling = ruleOn(session, command, momentAt(atMs), NURSE);
          if (ruling.taken) session = ruling.session;
          expect(shownBy(session)).toEqual([]);
        }
      }),
    );
  });

  test('again, once the first entries are made anew', () => {
    const agreed = secondBy(second, play(steps));
    for (const anew of [order, measure]) expect(shownBy(give(agreed, anew, atMs))).toEqual([]);
  });

  test('in what a refusal says', () => {
    const session = play(steps);
    const tries: [Command, Person][] = [
      [{ ...second, heightCm: 71, weightKg: 171 }, SECOND_NURSE],
      [second, NURSE],
      [commandOf('prepare'), SECOND_NURSE],
      [commandOf('start-pump'), SECOND_NURSE],
    ];
    for (const [command, by] of tries) {
      const says = missing(session, command, atMs, by);
      expect(says).not.toEqual([]);
      const without = told(says, session).filter((figure) => !JSON.stringify(command).includes(figure));
      expect(without).toEqual([]);
    }
  });
});

describe('by no order of commands', () => {
  const lesions: readonly LesionOnRetina[][] = [[RIGHT], [{ ...RIGHT, gldUm: 2700 }]];
  const weights = [71.5, 72.5] as const;
  interface Try {
    readonly command: Command;
    readonly by: Person;
  }
  const tries = (people: readonly Person[]): fc.Arbitrary<Try> =>
    fc
      .record({
        kind: fc.constantFrom('order', 'measure', 'second-check', 'second-check', 'prepare', 'prepare'),
        by: fc.constantFrom(...people),
        weightKg: fc.constantFrom(...weights),
        lesion: fc.constantFrom(...lesions),
      })
      .map(({ kind, by, weightKg, lesion }) => ({ by, command: commandFor(kind, weightKg, lesion) }));

  function commandFor(kind: string, weightKg: number, lesion: LesionOnRetina[]): Command {
    if (kind === 'order') return orderOf(lesion);
    if (kind === 'measure') return { kind: 'measure', heightCm: 168, weightKg };
    if (kind === 'second-check') return { ...SECOND, weightKg, lesions: lesion };
    return commandOf(kind);
  }

  /** What was entered, kept by this test alone: the first two entries, and the second computation after them. */
  interface Kept {
    order: Try | null;
    measure: Try | null;
    second: Try | null;
    differed: boolean;
  }

  function follow(commands: readonly Try[], onPrepare: (kept: Kept) => void): void {
    let session = give(play(stepsBefore('order')), commandOf('screen'), OPENED_AT_MS + 30_000);
    const kept: Kept = { order: null, measure: null, second: null, differed: false };
    for (const one of commands) {
      const ruling = ruleOn(session, one.command, momentAt(atMs), one.by);
      if (!ruling.taken) continue;
      session = ruling.session;
      if (one.command.kind === 'prepare') {
        onPrepare(kept);
        return;
      }
      if (one.command.kind === 'order') Object.assign(kept, { order: one, second: null });
      if (one.command.kind === 'measure') Object.assign(kept, { measure: one, second: null });
      if (one.command.kind !== 'second-check') continue;
      kept.second = one;
      expect(ruling.event.found.agrees).toBe(same(kept));
      expect(ruling.event.found.afterDifference ?? false).toBe(same(kept) && kept.differed);
      if (!same(kept)) kept.differed = true;
    }
  }

  function same({ order, measure, second }: Kept): boolean {
    const first = { ...order?.command, ...measure?.command } as unknown as CommandOf<'second-check'>;
    const other = second?.command as CommandOf<'second-check'>;
    return first.weightKg === other.weightKg && JSON.stringify(first.lesions) === JSON.stringify(other.lesions);
  }

  test('is drug made up unless another person came to the same figures after the last of the first entries', () => {
    let prepared = 0;
    fc.assert(
      fc.property(fc.array(tries([NURSE, SECOND_NURSE, PHYSICIAN]), { minLength: 6, maxLength: 20 }), (commands) => {
        follow(commands, (kept) => {
          prepared += 1;
          const { order, measure, second } = kept;
          expect([order, measure, second]).not.toContain(null);
          expect([order?.by.initials, measure?.by.initials]).not.toContain(second?.by.initials);
          expect(same(kept)).toBe(true);
        });
      }),
      { numRuns: 600 },
    );
    expect(prepared, 'runs in which drug was made up at all').toBeGreaterThan(5);
  });

  test('is drug made up by one person alone', () => {
    const roles = (['nurse', 'operator', 'physician'] as const).map((role): Person => ({ initials: 'MO', role }));
    fc.assert(
      fc.property(fc.array(tries(roles), { minLength: 6, maxLength: 20 }), (commands) => {
        follow(commands, () => {
          throw new Error('drug was made up');
        });
      }),
      { numRuns: 300 },
    );
  });
});

function numbersIn(value: unknown): string[] {
  if (typeof value === 'number') return [String(value)];
  if (value === null || typeof value !== 'object') return [];
  return Object.values(value).flatMap(numbersIn);
}

/** Whether a text has a figure as a figure of its own, not as a part of a longer one. */
function says(text: string, figure: string): boolean {
  return new RegExp(`(?<![\\d.])${figure.replaceAll('.', '\\.')}(?![\\d.])`).test(text);
}
