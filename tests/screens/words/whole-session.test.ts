import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright';
import { beforeAll, describe, expect, test } from 'vitest';
import { say } from '../../../renderer/words/say.ts';
import { CHROMIUM, carriedScreens } from '../browser-carrier.ts';
import { nurseAt } from '../nurse.ts';
import { wholeSession } from '../whole-session.ts';
import { keepPicture } from './kept-picture.ts';
import { notSaid, unseen } from './seen-faults.ts';
import { folderSpeaking } from './speaking-folder.ts';

/** The others are looked at stage by stage. */
const LANGUAGE = 'es';
const WALK_MS = 240_000;

describe.skipIf(CHROMIUM === null)('a whole session in Spanish', () => {
  const screens = carriedScreens(60, () => folderSpeaking(LANGUAGE));
  let page: Page;
  let board: Page;

  beforeAll(async () => {
    page = await screens.open('console');
    board = await screens.open('board', { width: 1920, height: 1080 });
    // A cue that comes and goes would be measured half gone.
    for (const one of [page, board]) await one.emulateMedia({ reducedMotion: 'reduce' });
  });

  const keptOut = async (on: Page): Promise<string[]> => {
    const { violations } = await new AxeBuilder({ page: on }).setLegacyMode(true).analyze();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
  };

  test('goes by the keyboard alone; all is said, seen and open to everybody, and the columns stand still', {
    timeout: WALK_MS,
  }, async () => {
    const wrong: string[] = [];
    await watchCueLine(page);
    await wholeSession(
      nurseAt(page, (words) => say(words, LANGUAGE)),
      async (stage) => {
        for (const [name, on] of Object.entries({ console: page, board })) {
          await keepPicture(on, `${LANGUAGE} session ${name} ${stage}`);
          const faults = [...(await notSaid(on, LANGUAGE)), ...(await unseen(on)), ...(await keptOut(on))];
          wrong.push(...faults.map((fault) => `${stage}, ${name}: ${fault}`));
        }
      },
    );
    expect(wrong).toEqual([]);
    expect(screens.errors).toEqual([]);
    const { heights, cues } = await seenOfCueLine(page);
    expect(cues).toBeGreaterThan(2);
    expect(heights).toHaveLength(1);
  });
});

interface CueLineSeen {
  readonly heights: number[];
  readonly cues: number;
}

declare global {
  interface Window {
    cueLineSeen: CueLineSeen;
  }
}

/** Has the page keep every height that its line of cues takes, with a cue in it or none, and how many cues there were. */
const watchCueLine = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const heights = new Set<number>();
    let cues = 0;
    let last: Element | null = null;
    const look = (): void => {
      const line = document.querySelector('.cue-line');
      const shown = line?.querySelector('.cue-line-shown') ?? null;
      if (line !== null) heights.add(line.getBoundingClientRect().height);
      if (shown !== null && shown !== last) cues += 1;
      last = shown;
      window.cueLineSeen = { heights: [...heights], cues };
      requestAnimationFrame(look);
    };
    look();
  });

const seenOfCueLine = (page: Page): Promise<CueLineSeen> => page.evaluate(() => window.cueLineSeen);
