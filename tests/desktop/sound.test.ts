import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { expect as expectShown } from 'playwright/test';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Command } from '../../core/procedure/commands.ts';
import { recognise } from '../hearing/recogniser.ts';
import { monotonicMs, RECORDED_RATE, type Recorder, record } from '../hearing/recorder.ts';
import { nurseAt } from '../screens/nurse.ts';
import { sessionBefore } from '../screens/sent-commands.ts';
import { RIGHT, settingsFor } from '../session-steps.ts';
import { entriesIn, type FoundEntry } from '../station/independent-reading.ts';
import { type Desktop, desktop, HAS_DESKTOP, SOON } from './desktop.ts';

/** What is played can be listened to: a sound server that is named, and what records from it. */
const CAN_LISTEN = HAS_DESKTOP && Boolean(process.env.PULSE_SERVER) && spawnSync('parec', ['--version']).status === 0;

const SPEED = 5;
const LATER = { timeout: 40_000 };
/** A sound that is recognised is far more like the right one than this, unless it is torn to pieces. */
const LIKE = 0.6;
/** Far more than a busy machine takes; the measurement in tests/bench says how little it is. */
const NEAR_MS = 400;
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
  let recorder: Recorder;
  beforeAll(async () => {
    [recorder, desk] = await Promise.all([record(), desktop(SPEED)]);
  });
  afterAll(async () => {
    await desk?.stop();
    await recorder?.stop();
  });

  /** The sound in a stretch of what was played, and how loud it is. */
  const heardBetween = (fromMs: number, untilMs: number) => {
    const { samples, sampleAt, atMs } = recorder.recording();
    const found = recognise(samples, sampleAt(fromMs), sampleAt(untilMs));
    const own = samples.subarray(found.sample, found.sample + Math.round(found.lengthS * RECORDED_RATE));
    return {
      ...found,
      onsetMs: atMs(found.sample),
      loudest: own.reduce((most, one) => Math.max(most, Math.abs(one)), 0),
    };
  };
  const silentBetween = (fromMs: number, untilMs: number): boolean => {
    const { samples, sampleAt } = recorder.recording();
    return samples.subarray(sampleAt(fromMs), sampleAt(untilMs)).every((one) => Math.abs(one) < 0.004);
  };

  test('is the sound check, when its key is pressed, and it is softer at the lowest volume and never silent', async () => {
    const nurse = nurseAt(desk.console);
    await expectShown(desk.console.getByText('+ − volume 5 of 5')).toBeVisible();
    const checked = async (key: string, says: string) => {
      await desk.console.waitForTimeout(2_500);
      const fromMs = monotonicMs();
      await nurse.pressUntil(key, nurse.said.getByText(says));
      await desk.console.waitForTimeout(4_000);
      return heardBetween(fromMs, monotonicMs());
    };
    const loud = await checked('s', 'sounding now');
    expect(loud).toMatchObject({ tone: 'sound-check' });
    expect(loud.likeness).toBeGreaterThan(LIKE);
    for (const level of [4, 3, 2]) await nurse.pressUntil('-', nurse.said.getByText(`volume ${level} of 5`));
    const soft = await checked('-', 'volume 1 of 5, the lowest: it is never silent');
    expect(soft).toMatchObject({ tone: 'sound-check' });
    expect(20 * Math.log10(loud.loudest / soft.loudest)).toBeCloseTo(20, 0);
    for (const level of [2, 3, 4, 5]) await nurse.pressUntil('+', nurse.said.getByText(`volume ${level} of 5`));
    await desk.console.waitForTimeout(2_500);
  });

  test('is the end of the light at its instant and again, until somebody says that it was heard', async () => {
    const nurse = nurseAt(desk.console);
    const sessionId = await sessionBefore(desk.console, 'begin-flush', ...TO_BEAM_ON);
    await nurse.signIn('MO', 'nurse');
    const sounded = (): FoundEntry[] =>
      entriesIn(desk.ledgerFile).filter(
        ({ kind, payload, sessionId: of }) =>
          kind === 'cue-sounded' && payload.cue === 'exposure-end' && of === sessionId,
      );
    await expect.poll(() => sounded().length, LATER).toBeGreaterThan(1);
    await nurse.pressUntil('q', desk.console.locator('.cue-line:not(:has(p))'));
    await desk.console.waitForTimeout(3_000);
    const hushedMs = monotonicMs();
    await desk.console.waitForTimeout(4_000);
    const [first] = sounded();
    const dueMs = Number(first?.payload.dueAtMs) / SPEED;
    const heard = heardBetween(dueMs - 1_000, dueMs + 3_000);
    console.log(`end of the light: heard ${(heard.onsetMs - dueMs).toFixed(1)} ms after its instant`);
    expect(heard).toMatchObject({ tone: 'exposure-end' });
    expect(heard.likeness).toBeGreaterThan(LIKE);
    expect(Math.abs(heard.onsetMs - dueMs)).toBeLessThan(NEAR_MS);
    expect(entriesIn(desk.ledgerFile).some(({ kind }) => kind === 'cue-heard')).toBe(true);
    expect(silentBetween(hushedMs, hushedMs + 3_500)).toBe(true);
  });
});

describe.skipIf(!CAN_LISTEN)('where the site has the board sound the cues, with words', { retry: 2 }, () => {
  let desk: Desktop;
  let recorder: Recorder;
  beforeAll(async () => {
    const folder = mkdtempSync(join(tmpdir(), 'dimroom-desktop-'));
    writeFileSync(join(folder, 'settings.json'), JSON.stringify({ cuesPlayedBy: 'board', spokenCues: true }));
    [recorder, desk] = await Promise.all([record(), desktop(SPEED, folder)]);
  });
  afterAll(async () => {
    await desk?.stop();
    await recorder?.stop();
  });

  test('the board does, the words follow the tone, and the console takes over where the board is gone', async () => {
    const { board, console: console_ } = desk;
    if (board === null) return;
    await expect.poll(() => sounds(board), SOON).toBe(true);
    expect(await sounds(console_)).toBe(false);
    await sessionBefore(console_, 'begin-flush', ...TO_BEAM_ON);
    const sounded = (): FoundEntry[] =>
      entriesIn(desk.ledgerFile).filter(
        ({ kind, payload }) => kind === 'cue-sounded' && payload.cue === 'exposure-end',
      );
    await expect.poll(() => sounded().length, LATER).toBeGreaterThan(0);
    await console_.waitForTimeout(1_000);
    const fromMs = Number(sounded()[0]?.payload.dueAtMs) / SPEED;
    await console_.waitForTimeout(4_000);
    const { samples, sampleAt } = recorder.recording();
    const tone = recognise(samples, sampleAt(fromMs - 500), sampleAt(fromMs + 4_000));
    expect(tone.tone).toBe('exposure-end');
    const after = samples.subarray(tone.sample + Math.round(tone.lengthS * RECORDED_RATE)).subarray(0, RECORDED_RATE);
    expect(after.reduce((most, one) => Math.max(most, Math.abs(one)), 0)).toBeGreaterThan(0.05);

    // A board that was closed is opened again: until then the console sounds.
    await board.evaluate(() => window.close()).catch(() => undefined);
    await expect.poll(() => sounds(console_), { ...SOON, interval: 50 }).toBe(true);
    await expect.poll(() => sounds(console_), SOON).toBe(false);
  });
});

/** Whether a page holds the lock of the window that sounds. */
const sounds = (page: Page): Promise<boolean> =>
  page.evaluate(() =>
    navigator.locks.request('whose page is this', async () => {
      const { held = [] } = await navigator.locks.query();
      const own = held.find(({ name }) => name === 'whose page is this')?.clientId;
      return held.some(({ name, clientId }) => name === 'dimroom cues' && clientId === own);
    }),
  );
