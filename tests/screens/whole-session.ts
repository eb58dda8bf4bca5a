import { expect } from 'playwright/test';
import { SCREENING } from '../../core/procedure/screening.ts';
import type { Nurse, Typed } from './nurse.ts';

/** Where a session can be looked at on the way through. */
export type Stage =
  | 'planning'
  | 'prepared'
  | 'line primed'
  | 'infusing'
  | 'held'
  | 'resumed'
  | 'flushing'
  | 'waiting'
  | 'light on'
  | 'light done'
  | 'after-care'
  | 'discharged';

type Look = (stage: Stage) => Promise<void>;
const nowhere: Look = () => Promise.resolve();

/** A whole treatment of one eye by the keyboard, held once for pain; `look` is called at every stage. */
export async function wholeSession(nurse: Nurse, look: Look): Promise<void> {
  await plan(nurse, look);
  await prepare(nurse, look);
  await infuse(nurse, look);
  await giveLight(nurse, look);
  await careAfter(nurse, look);
}

/** From the empty screen to all that planning asks for. */
export async function plan(nurse: Nurse, look = nowhere): Promise<void> {
  await nurse.signIn('MO', 'nurse');
  await nurse.wayOn('open a session');
  await nurse.stateIs('planning');
  await look('planning');
  await nurse.taskWith(1, { 'patient code': 'K-2041', 'day of birth': '1951-03-02' });
  await nurse.task(2);
  await nurse.taskWith(3, ORDER);
  await nurse.taskWith(4, ALL_NO);
  await nurse.taskWith(5, BODY);
  await nurse.taskWith(6, SECOND_COMPUTATION);
}

/** From a plan to the pump ready to be started. */
export async function prepare(nurse: Nurse, look = nowhere): Promise<void> {
  await nurse.wayOn('drug reconstituted, infusate made');
  await nurse.enter();
  await nurse.stateIs('prepared');
  await look('prepared');
  await nurse.taskWith(1, { lot: 'a1027', expires: '2099-12' });
  await nurse.task(2);
  await nurse.task(3);
  await nurse.press('s');
  await nurse.task(4);
  await nurse.task(5);
  await nurse.wayOn('set primed and clamped, vein placed');
  await nurse.stateIs('line primed');
  await look('line primed');
  await nurse.taskWith(1, { 'filter and line hold': '1,5', 'primed with': '2' });
  await nurse.task(2);
  await nurse.task(3);
  await nurse.task(4);
}

/** From the pump's start to the end of the flush, with a hold between. */
export async function infuse(nurse: Nurse, look = nowhere): Promise<void> {
  await nurse.wayOn('pump on: both timers start');
  await nurse.stateIs('infusing');
  await look('infusing');
  await nurse.pressUntil('h', nurse.form);
  // The number of a reason holds at once: whoever stops a pump has no time for Enter.
  await nurse.press('2');
  await expect(nurse.page.getByRole('button', { name: nurse.say('resume the infusion') })).toBeVisible();
  await look('held');
  await nurse.press('r');
  await expect(nurse.page.getByRole('button', { name: nurse.say('hold the infusion') })).toBeVisible();
  await look('resumed');
  await nurse.wayOn('pump off, begin the flush');
  await nurse.stateIs('flushing');
  await look('flushing');
  await nurse.wayOn('flush done');
  await nurse.enter();
}

/** From the wait for the window to the end of the light, by the operator's hands. */
export async function giveLight(nurse: Nurse, look = nowhere): Promise<void> {
  await nurse.stateIs('waiting for light window');
  await look('waiting');
  await nurse.signIn('RV', 'operator');
  await nurse.taskWith(1, SETTINGS);
  await nurse.task(2);
  await nurse.task(3);
  await nurse.task(4);
  await nurse.wayOn('right eye: beam on');
  await nurse.stateIs('light delivery');
  await look('light on');
  await nurse.wayOn('right eye: the laser ended the light by itself');
  await look('light done');
  await nurse.wayOn('light done, go to after-care');
}

/** From the end of the light until the patient has left. */
export async function careAfter(nurse: Nurse, look = nowhere): Promise<void> {
  await nurse.stateIs('after-care');
  await look('after-care');
  await nurse.signIn('MO', 'nurse');
  await nurse.task(1);
  await nurse.task(2);
  await nurse.taskWith(3, { 'seen or told by the patient': 'none seen or told' });
  await nurse.taskWith(4, { 'review on': '2099-03-01' });
  await nurse.wayOn('discharge');
  await nurse.stateIs('discharged');
  await look('discharged');
}

export const ORDER: Typed = {
  regimen: '1',
  'eye, in turn': '1',
  'right eye, lesion GLD': '2600',
  'ordering physician': 'the ordering physician',
};

export const ALL_NO: Typed = Object.fromEntries(SCREENING.map(({ words }) => [words, 'n']));

/** A decimal comma, and metres: the letter after the figure changes the unit. */
export const BODY: Typed = { height: '1,68m', weight: '71.5' };

export const SECOND_COMPUTATION: Typed = {
  'other initials': 'tk',
  'other role': '1',
  height: '168',
  weight: '71,5',
  regimen: '1',
  'eye, in turn': '1',
  'right eye, lesion GLD': '2600',
};

export const SETTINGS: Typed = {
  'factor of the lens on the eye': '1.5',
  'factor entered into the laser': '1.5',
  'spot set': '2400',
  irradiance: '600',
  exposure: '83',
};

/** What people entered on the way, in order, and whose hands they were. Checks are named by what they confirm. */
export const ENTERED_BY_PEOPLE: readonly (readonly [string, string])[] = [
  ...of('MO', 'open-session', 'identify', 'consent', 'order', 'screen', 'measure'),
  ...of('TK', 'second-check'),
  ...of('MO', 'prepare', 'drug', 'inspected', 'd5w-only', 'sound-heard', 'time-out'),
  ...of('MO', 'prime-line', 'line', 'filter', 'blood-return', 'patency'),
  ...of('MO', 'start-pump', 'hold', 'resume', 'begin-flush', 'end-flush'),
  ...of('RV', 'read-back', 'drops', 'lens-on', 'eye-time-out', 'beam-on', 'beam-off', 'end-light'),
  ...of('MO', 'bracelet', 'sheet-given', 'reactions', 'review', 'discharge'),
];

function of(initials: string, ...names: string[]): [string, string][] {
  return names.map((name) => [name, initials]);
}
