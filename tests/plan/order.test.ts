import { describe, expect, test } from 'vitest';
import { replay } from '../../core/ledger/replay.ts';
import { wordsFor } from '../../core/ledger/words.ts';
import { type Command, type CommandOf, commandSchema } from '../../core/procedure/commands.ts';
import type { House } from '../../core/procedure/findings.ts';
import { SCREENING, type ScreeningId } from '../../core/procedure/screening.ts';
import { ruleOn } from '../../core/procedure/session.ts';
import { viewOf } from '../../core/procedure/view.ts';
import { REGIMENS, type Regimen, regimenById } from '../../core/regimen/regimens.ts';
import { DEFAULT_SETTINGS, type Settings } from '../../core/settings/settings.ts';
import {
  ALL_NO,
  atOf,
  commandOf,
  courseOf,
  entriesOf,
  give,
  instead,
  LEFT,
  missing,
  momentAt,
  NURSE,
  ONE_EYE,
  opened,
  orderOf,
  planned,
  play,
  played,
  RIGHT,
  readyFor,
  SECOND_NURSE,
  stepsBefore,
  TWO_EYES,
} from '../session-steps.ts';

const atMs = atOf('prepare');
const prepareSays = (session: ReturnType<typeof planned>) => missing(session, commandOf('prepare'), atMs);
const order = (lesions: CommandOf<'order'>['lesions'], other: Partial<CommandOf<'order'>> = {}): Command => ({
  ...orderOf([RIGHT]),
  lesions,
  ...other,
});

describe('off label', () => {
  test.each(REGIMENS.filter((regimen) => !regimen.onLabel))('$name is not ordered without a reason', ({ id, name }) => {
    const { offLabelReason: _left, ...bare } = orderOf([RIGHT], id);
    const refused = `"${name}" is off label: enter the ordering physician's reason.`;
    for (const session of [readyFor('order'), planned()]) expect(missing(session, bare, atMs)).toEqual([refused]);
    const session = give(readyFor('order'), orderOf([RIGHT], id), atOf('order'));
    expect(session.context.order?.offLabelReason).toBe('chronic disease, half of the drug is enough');
  });

  test('a reason of two letters is none', () => {
    expect(commandSchema.safeParse({ ...orderOf([RIGHT], 'half-time'), offLabelReason: 'ok' }).success).toBe(false);
  });

  test('the plan and the view say that it is, and why', () => {
    const session = planned(courseOf([RIGHT], 'half-dose-15'));
    expect(session.context.plan?.cautions.join(' ')).toContain('off-label');
    const view = viewOf(session.context, 9, momentAt(atMs));
    expect(view.regimen?.onLabel).toBe(false);
    expect(view.offLabelReason).toBe('chronic disease, half of the drug is enough');
  });

  test('the label regimen needs no reason', () => {
    expect(missing(readyFor('order'), order([RIGHT]), atOf('order'))).toEqual([]);
  });
});

describe('a lesion measured on an image', () => {
  const onImage = [{ eye: 'right', imageMm: 7.5, cameraMagnification: 2.5 }] as const;
  const steps = instead('order', order([...onImage]));

  test('of 7.5 mm at 2.5 times is 3000 µm on the retina and a spot of 4000 µm (US prescribing information)', () => {
    const { order: kept, plan } = readyFor('second-check', [], steps).context;
    expect(kept?.lesions).toEqual([{ eye: 'right', gldUm: 3000, cameraMagnification: 2.5 }]);
    expect(plan?.cautions).toEqual([]);
    expect(plan?.light[0]).toMatchObject({ gldUm: 3000, spotUm: 4000 });
  });

  test.each([
    [2.4, 3125],
    [2.6, 2885],
  ])('at %d times is %d µm: to the micrometre, finer is not measured', (cameraMagnification, gldUm) => {
    const session = give(readyFor('order'), order([{ eye: 'right', imageMm: 7.5, cameraMagnification }]), atMs);
    expect(session.context.order?.lesions).toEqual([{ eye: 'right', gldUm, cameraMagnification }]);
  });

  test('with a camera outside 2.4 to 2.6 times is a caution (US prescribing information, EU-SmPC)', () => {
    const wide = instead('order', order([{ eye: 'right', imageMm: 7.5, cameraMagnification: 1.8 }]));
    expect(readyFor('second-check', [], wide).context.plan?.cautions).toEqual([
      'The product texts recommend a fundus camera of 2.4 to 2.6 times; this one is 1.8.',
    ]);
  });

  test('agrees with a second person who enters it as it lies on the retina', () => {
    const second = { ...commandOf('second-check'), lesions: [{ eye: 'right', gldUm: 3000 }] } as Command;
    const session = give(readyFor('second-check', [], steps), second, atOf('second-check'), SECOND_NURSE);
    expect(session.context.secondCheck?.agrees).toBe(true);
  });

  test.each([
    [60, 1, 60_000],
    [0.1, 5, 20],
  ])(
    'of %d mm at %d times, %d µm, is no lesion: it is the order that is refused, measured or not',
    (imageMm, cameraMagnification, gldUm) => {
      const command = order([{ eye: 'right', imageMm, cameraMagnification }]);
      const refused = `Greatest linear dimension must be 100 to 12000 um, not ${gldUm} um: check the figure and its unit.`;
      expect(missing(readyFor('order'), command, atMs)).toEqual([refused]);
      expect(missing(planned(), command, atMs)).toEqual([refused]);
    },
  );

  test.each([
    ['without magnification', { eye: 'right', imageMm: 7.5 }],
    ['measured both ways', { eye: 'right', imageMm: 7.5, cameraMagnification: 2.5, gldUm: 3000 }],
    ['of no size', { eye: 'right', imageMm: 0, cameraMagnification: 2.5 }],
    ['for no eye', { imageMm: 7.5, cameraMagnification: 2.5 }],
  ])('%s cannot be said', (_what, lesion) => {
    expect(commandSchema.safeParse({ ...orderOf([RIGHT]), lesions: [lesion] }).success).toBe(false);
  });

  test('the same eye cannot be ordered twice', () => {
    const twice = commandSchema.safeParse({ ...orderOf([RIGHT]), lesions: [RIGHT, ...onImage] });
    expect(twice.error?.issues[0]?.message).toBe('the same eye is named twice');
  });
});

/** US prescribing information: nasal edge of the spot at least 200 µm from the disc; the spot's border is 500 µm. */
describe('the distance to the disc', () => {
  const cautionsAt = (discDistanceUm: number) =>
    readyFor('second-check', [], courseOf([{ ...RIGHT, discDistanceUm }])).context.plan?.cautions ?? [];

  test('of 700 µm leaves 200 µm beside the spot: nothing is said', () => {
    expect(cautionsAt(700)).toEqual([]);
  });

  test('of less is a caution, with what would be left', () => {
    expect(cautionsAt(699).join(' ')).toContain("The right eye's spot would end 199 um from the disc: keep 200 um");
  });

  test('of less than the border is a caution that the spot would lie over the disc', () => {
    expect(cautionsAt(300).join(' ')).toContain(
      "The right eye's spot would reach 200 um over the edge of the disc: keep",
    );
  });
});

describe('both eyes', () => {
  const decision = { physician: 'the ordering physician', reason: 'both lesions grow fast' };
  const sayings = (profile: Settings['profile'], other: Partial<CommandOf<'order'>>) => {
    const { earlierTreatment: _tolerated, ...bare } = orderOf([RIGHT, LEFT]);
    const steps = instead('order', { ...bare, ...other }, TWO_EYES);
    return prepareSays(play(stepsBefore('prepare', steps), opened({ profile })));
  };

  test.each<[Settings['profile'], Partial<CommandOf<'order'>>, RegExp | null]>([
    ['us', {}, /how an earlier treatment went is not entered/],
    ['us', { earlierTreatment: 'none' }, /one eye now, the other a week later/],
    ['us', { earlierTreatment: 'not tolerated' }, /one eye now, the other a week later/],
    ['us', { earlierTreatment: 'tolerated' }, null],
    ['us', { earlierTreatment: 'none', bothEyes: decision }, null],
    ['us', { bothEyes: decision }, null],
    ['eu', {}, /how an earlier treatment went is not entered/],
    ['eu', { earlierTreatment: 'none' }, /no data on both eyes at once/],
    ['eu', { earlierTreatment: 'tolerated' }, /no data on both eyes at once/],
    ['eu', { earlierTreatment: 'tolerated', bothEyes: decision }, null],
  ])('where the site follows the %s text and %j is ordered', (profile, other, refused) => {
    expect(sayings(profile, other)).toEqual(refused === null ? [] : [expect.stringMatching(refused)]);
  });

  test('are no question with one eye', () => {
    for (const profile of ['us', 'eu'] as const) {
      expect(prepareSays(play(stepsBefore('prepare'), opened({ profile })))).toEqual([]);
    }
  });

  test('wait for the word that the more aggressive lesion comes first, and no reason replaces it', () => {
    const session = planned(TWO_EYES.filter((step) => step.name !== 'aggressive-first'));
    const refused = ['that the more aggressive lesion comes first is not confirmed'];
    expect(prepareSays(session)).toEqual(refused);
    const reasoned: Command = { kind: 'prepare', reconstitutedAgoS: 300, override: { reason: 'no time for it' } };
    expect(missing(session, reasoned, atMs)).toEqual(refused);
  });

  test('in another order need that word again: it was said of the order before', () => {
    const turned = give(planned(TWO_EYES), orderOf([LEFT, RIGHT]), atMs);
    expect(prepareSays(turned)).toContain('that the more aggressive lesion comes first is not confirmed');
  });
});

describe("the site's settings", () => {
  test('of formula and graduation are what the dose is computed with', () => {
    const settings = { formula: 'du-bois', graduationMl: 0.02 } as const;
    const { plan } = play(stepsBefore('second-check'), opened(settings)).context;
    const areaM2 = 0.007184 * 168 ** 0.725 * 71.5 ** 0.425;
    expect(plan?.formula).toBe('du-bois');
    expect(plan?.bodySurfaceAreaM2).toBeCloseTo(areaM2, 12);
    expect(plan?.infusate.drugMlRounded).toBeCloseTo(Math.round((areaM2 * 3) / 0.02) * 0.02, 9);
    const words = wordsFor({ kind: 'measure', payload: { heightCm: 168, weightKg: 71.5, found: { plan } } });
    expect(words).toContain(`${plan?.infusate.drugMlRounded.toFixed(2)} mL of drug`);
  });

  test('of the spread of the formulas are when the plan says that they are apart', () => {
    const cautions = (formulaSpreadShare: number) =>
      play(stepsBefore('second-check'), opened({ formulaSpreadShare })).context.plan?.cautions ?? [];
    expect(cautions(0.05)).toEqual([]);
    expect(cautions(0.005).join(' ')).toContain('formulas are');
  });

  test('of a late press are how far the start of the pump may be set back', () => {
    const says = (latePressS: number, agoS: number) =>
      missing(play(stepsBefore('begin-flush'), opened({ latePressS })), { kind: 'set-back', agoS }, atOf('start-pump'));
    expect(says(30, 30)).toEqual([]);
    expect(says(30, 31)).toEqual(['at most 30 s can be set back at this site: enter more as a deviation']);
    expect(DEFAULT_SETTINGS.latePressS).toBe(120);
  });
});

describe('screening', () => {
  const answered = (id: ScreeningId, profile: Settings['profile'], decision?: CommandOf<'screen'>['decision']) => {
    const screen: Command = { kind: 'screen', answers: { ...ALL_NO, [id]: 'yes' }, ...(decision && { decision }) };
    return play(stepsBefore('prepare', instead('screen', screen)), opened({ profile }));
  };
  const minded: ScreeningId[] = ['photosensitisers', 'uptake', 'surgery-soon'];

  test.each(SCREENING.filter(({ id }) => !minded.includes(id)))('$id waits for a named decision', ({ id, words }) => {
    for (const profile of ['us', 'eu'] as const) {
      expect(prepareSays(answered(id, profile))).toEqual([`a physician's named decision is needed: ${words}`]);
      const decision = { physician: 'the ordering physician', reason: 'benefit outweighs the risk' };
      expect(prepareSays(answered(id, profile, decision))).toEqual([]);
    }
  });

  test.each(minded)('%s closes nothing and is kept in view', (id) => {
    const session = answered(id, 'us');
    expect(prepareSays(session)).toEqual([]);
    const { cautions } = viewOf(session.context, 9, momentAt(atMs));
    const question = SCREENING.find((one) => one.id === id);
    expect(cautions).toContain(`${question?.words}: ${question?.advice}`);
  });

  /** Contraindication in the EU-SmPC; caution in the US prescribing information. */
  test('severe hepatic impairment stops by the European text and is weighed by that of the US', () => {
    const question = SCREENING.find((one) => one.id === 'hepatic-severe');
    expect(question?.effect).toEqual({ us: 'decide', eu: 'stop' });
  });

  test('a question left out cannot be said to be answered', () => {
    const { uptake: _left, ...answers } = ALL_NO;
    expect(commandSchema.safeParse({ kind: 'screen', answers }).success).toBe(false);
  });
});

describe("a site's own regimen", () => {
  const own: Regimen = {
    ...regimenById('half-dose-15'),
    id: 'own-third',
    name: 'One third, ours',
    doseMgPerM2: 2,
    sources: [{ text: 'our own protocol', sure: 'local' }],
  };
  const house: House = { regimens: [...REGIMENS, own] };
  const steps = courseOf([RIGHT], 'own-third');

  test('is kept in the order, so that a session is replayed after it was changed or taken away', () => {
    const { session, events } = played(steps, opened(), house);
    const again = replay(entriesOf(events));
    expect(again.context).toEqual(session.context);
    expect(again.context.order?.regimen).toEqual(own);
    expect(again.context.plan?.infusate.doseMg).toBeCloseTo(2 * Math.sqrt((168 * 71.5) / 3600), 9);
  });

  test('is not on offer elsewhere, and its id is named with those that are', () => {
    expect(missing(readyFor('order'), orderOf([RIGHT], 'own-third'), atMs)[0]).toMatch(
      /^No regimen is called "own-third"; choose one of: label, half-dose-15/,
    );
  });

  test.each<[string, Partial<Regimen>]>([
    ['light dose', { fluenceJPerCm2: 25, irradianceMwPerCm2: 300 }],
    ['start of the light', { lightStartMin: 16 }],
    ['limit for the second eye', { secondEyeLimitMin: 25 }],
  ])('with the name and dose of another but its own %s is not taken for it', (_what, other) => {
    const label = regimenById('label');
    const namesake: Regimen = { ...label, ...other, id: 'own-label', onLabel: false };
    const second = { ...commandOf('second-check'), regimenId: 'own-label' } as Command;
    const ruling = ruleOn(readyFor('second-check'), second, momentAt(atMs), SECOND_NURSE, {
      regimens: [label, namesake],
    });
    if (!ruling.taken) throw new Error('the second computation is refused');
    expect(ruling.event.found.agrees).toBe(false);
    const [difference] = ruling.event.found.differences ?? [];
    expect(difference?.what).toBe('regimen');
    expect(difference?.first).not.toBe(difference?.second);
  });
});

test('a course as it ought to go is taken from end to end, with one eye and with two, by either product text', () => {
  expect(play(ONE_EYE).value).toBe('discharged');
  expect(play(TWO_EYES).value).toBe('discharged');
  const decided = orderOf([RIGHT, LEFT]);
  const bothEyes = { physician: 'the ordering physician', reason: 'both lesions grow fast' };
  expect(play(instead('order', { ...decided, bothEyes }, TWO_EYES), opened({ profile: 'eu' })).value).toBe(
    'discharged',
  );
  expect(ONE_EYE[0]?.by).toBe(NURSE);
});
