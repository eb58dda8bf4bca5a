import { closeSync, fsyncSync, openSync, rmSync, writeSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright';
import { browserCarrier, CHROMIUM, newFolder, openChromium } from '../../screens/browser-carrier.ts';
import { nurseAt } from '../../screens/nurse.ts';
import { sessionBefore } from '../../screens/sent-commands.ts';
import { type Lacking, medianOf, type Row, rowOf } from './row.ts';

const TIMES = 40;
/** A press that comes sooner is not taken: the console waits so long after a change. */
const REST_MS = 900;

interface Seen {
  readonly pressedMs: number;
  readonly enteredMs: number;
  readonly shownMs: number;
}

declare global {
  interface Window {
    benchSeen?: { pressedMs: number; enteredMs: number; shownMs: number };
  }
}

/**
 * A key press at the console, to its entry on disk and told of, to the board that shows it: a hold and its end, over and
 * over, beside a bare write and fsync of as much on the same disk, turn by turn. Both pages' clocks are the machine's.
 */
export async function keyToBoard(): Promise<(Row | Lacking)[]> {
  const what = 'key press to committed entry';
  if (CHROMIUM === null) return [{ what, why: 'no Chromium here' }];
  const carrier = await browserCarrier(1, newFolder());
  const browser = await openChromium();
  const bareFile = join(dirname(carrier.ledgerFile), 'bare');
  const bare = openSync(bareFile, 'a');
  try {
    const [console_, board] = [await browser.newPage(), await browser.newPage()];
    await console_.addInitScript(noteEntered);
    await console_.goto(carrier.console);
    await board.goto(carrier.board);
    await nurseAt(console_).signIn('MO', 'nurse');
    await sessionBefore(console_, 'begin-flush');
    await nurseAt(console_).stateIs('infusing');
    const seen: Seen[] = [];
    const syncMs: number[] = [];
    for (let count = 0; count < TIMES; count += 1) {
      seen.push(await held(console_, board));
      syncMs.push(bareSync(bare));
    }
    const spans = (from: keyof Seen, to: keyof Seen): number[] => seen.map((one) => one[to] - one[from]);
    return [
      rowOf(what, 'ms', spans('pressedMs', 'enteredMs'), {
        beside: { what: 'bare write and fsync', median: medianOf(syncMs) },
      }),
      rowOf('key press to the board that shows it', 'ms', spans('pressedMs', 'shownMs')),
    ];
  } finally {
    closeSync(bare);
    await browser.close();
    rmSync(bareFile, { force: true });
    await carrier.stop();
  }
}

/** One hold by its keys, and its end. The press that counts is that of the reason. */
async function held(console_: Page, board: Page): Promise<Seen> {
  await console_.waitForTimeout(REST_MS);
  await console_.keyboard.press('h');
  await console_.locator('form').waitFor();
  await console_.waitForTimeout(REST_MS);
  const shown = board.evaluate(whenHeld);
  await console_.evaluate(notePress);
  await console_.keyboard.press('4');
  const shownMs = await shown;
  await console_.getByRole('button', { name: 'resume the infusion' }).waitFor();
  const noted = await console_.evaluate(() => window.benchSeen);
  if (noted === undefined) throw new Error('the press was not noted');
  await console_.waitForTimeout(REST_MS);
  await console_.keyboard.press('r');
  await console_.getByRole('button', { name: 'hold the infusion' }).waitFor();
  return { pressedMs: noted.pressedMs, enteredMs: noted.enteredMs, shownMs };
}

function bareSync(file: number): number {
  const startedMs = performance.now();
  writeSync(file, Buffer.alloc(600, 'x'));
  fsyncSync(file);
  return performance.now() - startedMs;
}

/** In the console, before its own scripts: notes when it is told that an entry is written. */
function noteEntered(): void {
  const Socket = window.WebSocket;
  window.WebSocket = class extends Socket {
    constructor(address: string | URL, protocols?: string | string[]) {
      super(address, protocols);
      this.addEventListener('message', ({ data }) => {
        const seen = window.benchSeen;
        if (seen?.enteredMs === 0 && String(data).includes('"type":"entered"'))
          seen.enteredMs = performance.timeOrigin + performance.now();
      });
    }
  };
}

/** In the console: notes when the next key is pressed. */
function notePress(): void {
  const seen = { pressedMs: 0, enteredMs: 0, shownMs: 0 };
  window.benchSeen = seen;
  const note = (event: KeyboardEvent): void => {
    seen.pressedMs = performance.timeOrigin + event.timeStamp;
  };
  window.addEventListener('keydown', note, { capture: true, once: true });
}

/** On the board: the frame in which it says that the infusion is held. */
function whenHeld(): Promise<number> {
  return new Promise((resolve) => {
    const look = (): void => {
      if (/held/i.test(document.body.textContent ?? '')) resolve(performance.timeOrigin + performance.now());
      else requestAnimationFrame(look);
    };
    look();
  });
}
