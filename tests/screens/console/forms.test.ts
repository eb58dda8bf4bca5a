import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { Command } from '../../../core/procedure/commands.ts';
import { SCREENING } from '../../../core/procedure/screening.ts';
import { FORM_IDS, type FormId } from '../../../renderer/console/forms/form.ts';
import { entriesIn } from '../../station/independent-reading.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { type Nurse, nurseAt, type Typed } from '../nurse.ts';
import { sessionBefore } from '../sent-commands.ts';
import { BODY, ORDER, SECOND_COMPUTATION, SETTINGS } from '../whole-session.ts';

interface Wrong {
  readonly form: FormId;
  readonly key: string;
  readonly typed: Typed;
  /** The field that the focus goes to, and what is said there. */
  readonly at: string;
  readonly says: RegExp;
}

interface Place {
  readonly before: string;
  readonly further?: readonly Command[];
  readonly wrong: readonly Wrong[];
}

const [FIRST_QUESTION] = SCREENING.map(({ words }) => words);
const STOPPED: Command = { kind: 'stop-early', reason: 'the patient asks to stop' };
const TROUBLE: Command = { kind: 'trouble', card: 'chest-or-faint' };
const PUMP_OFF: Command = { kind: 'begin-flush', override: { reason: 'pump stopped by itself' } };

/** Wrong input for every form, by where in a session it opens. */
const PLACES: readonly Place[] = [
  {
    before: 'prepare',
    wrong: [
      { form: 'hands', key: 'w', typed: { initials: 'M' }, at: 'initials', says: /two to four letters/ },
      { form: 'hands', key: 'w', typed: { initials: 'MO', role: '' }, at: 'role', says: /choose the role/ },
      { form: 'identify', key: '1', typed: { 'patient code': '!' }, at: 'patient code', says: /a code of 2 to 24/ },
      {
        form: 'identify',
        key: '1',
        typed: { 'patient code': 'K-2041', 'day of birth': '1951-02-30' },
        at: 'day of birth',
        says: /not in the calendar/,
      },
      {
        form: 'order',
        key: '3',
        typed: { ...ORDER, 'right eye, lesion GLD': '26' },
        at: 'right eye, lesion GLD',
        says: /is 100 to 12000/,
      },
      { form: 'screen', key: '4', typed: {}, at: String(FIRST_QUESTION), says: /answer by Y or N/ },
      { form: 'measure', key: '5', typed: { ...BODY, height: '16,8' }, at: 'height', says: /height/ },
      {
        form: 'second-check',
        key: '6',
        typed: { ...SECOND_COMPUTATION, weight: '7' },
        at: 'weight',
        says: /weight/,
      },
      {
        form: 'prepare',
        key: 'Enter',
        typed: { 'reconstituted at': '25:10' },
        at: 'reconstituted at',
        says: /hour:minute/,
      },
      { form: 'uncheck', key: 'Shift+Digit2', typed: { reason: 'x' }, at: 'reason', says: /three letters/ },
      { form: 'note', key: 'n', typed: { note: 'a' }, at: 'note', says: /three letters/ },
      {
        form: 'deviation',
        key: 'v',
        typed: { 'what happened': 'the lamp was on', why: '' },
        at: 'why',
        says: /three letters/,
      },
      { form: 'print', key: 'k', typed: {}, at: 'sheet', says: /choose the sheet/ },
      { form: 'stop-early', key: 'x', typed: { reason: '' }, at: 'reason', says: /three letters/ },
    ],
  },
  {
    before: 'drug',
    wrong: [
      { form: 'drug', key: '1', typed: { lot: '?' }, at: 'lot', says: /as printed on the vial/ },
      { form: 'drug', key: '1', typed: { lot: 'A1', expires: '31.12.' }, at: 'expires', says: /year-month-day/ },
      {
        form: 'go-on',
        key: 'e',
        typed: { 'reason for going on': '.' },
        at: 'reason for going on',
        says: /three letters/,
      },
    ],
  },
  {
    before: 'line',
    wrong: [
      {
        form: 'line',
        key: '1',
        typed: { 'filter and line hold': '150' },
        at: 'filter and line hold',
        says: /is 0 to 20 mL/,
      },
      {
        form: 'line',
        key: '1',
        typed: { 'filter and line hold': '1.5', 'primed with': '' },
        at: 'primed with',
        says: /choose what it was primed with/,
      },
    ],
  },
  {
    before: 'begin-flush',
    wrong: [
      { form: 'hold', key: 'h', typed: { reason: '5', 'in words': '.' }, at: 'in words', says: /three letters/ },
      { form: 'hold', key: 'h', typed: {}, at: 'reason', says: /choose the reason/ },
      {
        form: 'set-back',
        key: 'l',
        typed: { 'started before the press, by': '500' },
        at: 'started before the press, by',
        says: /is 1 to 120 s/,
      },
      {
        form: 'reactions',
        key: 'p',
        typed: { 'seen or told by the patient': '-' },
        at: 'seen or told by the patient',
        says: /three letters/,
      },
    ],
  },
  {
    before: 'begin-flush',
    further: [TROUBLE],
    wrong: [
      { form: 'trouble-told', key: 'c', typed: { 'what was done': '.' }, at: 'what was done', says: /three letters/ },
    ],
  },
  {
    before: 'begin-flush',
    further: [PUMP_OFF],
    wrong: [
      {
        form: 'end-flush',
        key: 'Enter',
        typed: { 'flushed with dextrose 5 %': '500' },
        at: 'flushed with dextrose 5 %',
        says: /flush is 0 to 50 mL/,
      },
    ],
  },
  {
    before: 'begin-flush',
    further: [PUMP_OFF, { kind: 'end-flush', flushMl: 5, override: { reason: 'flushed at once' } }],
    wrong: [
      {
        form: 'read-back',
        key: '1',
        typed: { ...SETTINGS, irradiance: '6' },
        at: 'irradiance',
        says: /irradiance is 10 to 2000/,
      },
    ],
  },
  {
    before: 'begin-flush',
    further: [
      PUMP_OFF,
      { kind: 'end-flush', flushMl: 5, override: { reason: 'flushed at once' } },
      { kind: 'beam-on', eye: 'right', override: { reason: 'no patient: practice' } },
    ],
    wrong: [
      {
        form: 'beam-set-back',
        key: 'm',
        typed: { 'before the press, by': '900' },
        at: 'before the press, by',
        says: /is 1 to \d+ s/,
      },
    ],
  },
  {
    before: 'begin-flush',
    further: [STOPPED],
    wrong: [{ form: 'review', key: '4', typed: { 'review on': 'in May' }, at: 'review on', says: /year-month-day/ }],
  },
  {
    before: 'prepare',
    further: [STOPPED, { kind: 'discharge' }],
    wrong: [
      {
        form: 'addendum',
        key: 'a',
        typed: { addendum: 'all well', 'why it is added': '' },
        at: 'why it is added',
        says: /three letters/,
      },
    ],
  },
];

describe.skipIf(CHROMIUM === null)('wrong input in a form', () => {
  const screens = carriedScreens(10);
  let page: Page;
  let nurse: Nurse;

  beforeAll(async () => {
    page = await screens.open('console');
    nurse = nurseAt(page);
    await nurse.signIn('MO', 'nurse');
  });

  afterEach(() => nurse.press('Escape'));

  const cases = PLACES.flatMap(({ wrong, ...place }) =>
    wrong.map((one, index) => ({ ...place, ...one, opens: index === 0 })),
  );

  test('is tried in every form that can be wrong', () => {
    const tried = new Set(cases.map(({ form }) => form));
    // Two are tried where people sign in, one asks nothing, one is tried where a computer has slept.
    const elsewhere = ['first-administrator', 'recover', 'open-session', 'looked'];
    expect(FORM_IDS.filter((form) => !tried.has(form))).toEqual(elsewhere);
  });

  test.each(cases)('$form: $says, at "$at", and nothing is entered', async (one) => {
    const { before, further = [], opens, key, typed, at, says } = one;
    if (opens) await sessionBefore(page, before, ...further);
    if (key === 'Enter') await expectShown(nurse.wayOnLine).toHaveAttribute('data-open', 'true', { timeout: 20_000 });
    const written = entriesIn(screens.carrier().ledgerFile).filter(({ author }) => author.role !== 'station').length;
    await nurse.pressUntil(key, nurse.form);
    await nurse.type(typed);

    const named = { name: at, exact: true };
    const field = nurse.form.getByRole('textbox', named).or(nurse.form.getByRole('radiogroup', named));
    await expectShown(async () => {
      await nurse.press('Enter');
      await expectShown(field).toHaveAccessibleDescription(says, { timeout: 1_000 });
    }).toPass({ timeout: 15_000 });
    expect(await field.evaluate((node) => node.contains(document.activeElement))).toBe(true);
    await nurse.press('Escape');
    await expectShown(nurse.form).toBeHidden();
    const after = entriesIn(screens.carrier().ledgerFile).filter(({ author }) => author.role !== 'station').length;
    expect(after).toBe(written);
  });
});
