import { expect as expectShown } from 'playwright/test';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { nurseAt } from '../screens/nurse.ts';
import { sessionBefore } from '../screens/sent-commands.ts';
import { RIGHT, settingsFor } from '../session-steps.ts';
import { type Desktop, desktop, HAS_DESKTOP, SOON } from './desktop.ts';
import { pitchesOf, recording } from './recording.ts';

/** A WAV file that holds all that is played here, written while it is. */
const FILE = process.env.DIMROOM_RECORDING ?? '';
const CAN_LISTEN = HAS_DESKTOP && FILE !== '' && Boolean(process.env.PULSE_SERVER);

const HALF_A_SECOND = 24_000;
const LATER = { timeout: 30_000 };
const override = { reason: 'no patient: practice' };
const TO_BEAM_ON: readonly Command[] = [
  { kind: 'begin-flush', override },
  { kind: 'end-flush', flushMl: 5, override },
  settingsFor(RIGHT),
  { kind: 'check', item: 'drops', eye: 'right' },
  { kind: 'check', item: 'lens-on', eye: 'right' },
  { kind: 'check', item: 'eye-time-out', eye: 'right' },
  { kind: 'beam-on', eye: 'right', override },
];

/** A busy machine's sound stutters: what was torn is listened to again. */
describe.skipIf(!CAN_LISTEN)('what is heard', { retry: 2 }, () => {
  let desk: Desktop;
  const heard = recording(FILE);

  beforeAll(async () => {
    desk = await desktop(10);
  });
  afterAll(() => desk?.stop());

  test('is the sound check, when its key is pressed', async () => {
    const from = heard.length();
    const nurse = nurseAt(desk.console);
    await expectShown(desk.console.getByText('no session').first()).toBeVisible();
    expect(heard.pitchesSince(from)).toEqual([]);
    await nurse.pressUntil('s', nurse.said.getByText('sounding now'));
    await expect.poll(() => inOrder(heard.pitchesSince(from), pitchesOf('sound-check')), SOON).toBe(true);
  });

  test('is the end of the light at its instant, without a key', async () => {
    await expect.poll(() => heard.pitchesSince(heard.length() - HALF_A_SECOND), SOON).toEqual([]);
    const from = heard.length();
    await sessionBefore(desk.console, 'begin-flush', ...TO_BEAM_ON);
    await expect.poll(() => inOrder(heard.pitchesSince(from), pitchesOf('exposure-end')), LATER).toBe(true);
  });
});

/** Whether all of these pitches were heard, one after the other. */
function inOrder(heard: readonly number[], wanted: readonly number[]): boolean {
  let next = 0;
  for (const hz of heard) if (hz === wanted[next]) next += 1;
  return wanted.length > 0 && next === wanted.length;
}
