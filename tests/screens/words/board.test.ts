import { describe, expect, test } from 'vitest';
import { LANGUAGES } from '../../../core/settings/language.ts';
import { say } from '../../../renderer/words/say.ts';
import { boards, CHROMIUM, show } from '../board/board-on-page.ts';
import { arcPoints, drawnBoxes } from '../board/drawn-boxes.ts';
import { faultsOfBoxes } from '../board/drawn-faults.ts';
import { SCENES } from '../board/scenes.ts';
import { keepPicture } from './kept-picture.ts';
import { notSaid } from './seen-faults.ts';

const MONITORS = [
  { width: 1920, height: 1080 },
  { width: 1080, height: 1920 },
];

/** For a busy machine. */
const MANY_FACES_MS = 120_000;

const CASES = LANGUAGES.filter((language) => language !== 'en').flatMap((language) =>
  MONITORS.map((monitor) => ({ language, ...monitor })),
);

describe.skipIf(CHROMIUM === null)('whatever there is to say on the board', () => {
  const screens = boards();

  test.each(CASES)(
    'it is said in $language, and has room on $width by $height',
    async ({ language, ...monitor }) => {
      const page = await screens.open(monitor);
      const wrong: string[] = [];
      for (const { name, face, noticesSaid } of SCENES) {
        const notices = noticesSaid((text) => say(text, language));
        await show(page, { ...face, notices }, 1, language);
        const boxes = await drawnBoxes(page);
        expect(boxes.length, name).toBeGreaterThan(1);
        const faults = [...faultsOfBoxes(boxes, await arcPoints(page), monitor), ...(await notSaid(page, language))];
        wrong.push(...faults.map((fault) => `${name}: ${fault}`));
        await keepPicture(page, `${language} board ${monitor.width} ${name}`);
      }
      expect(wrong).toEqual([]);
      expect(screens.errors).toEqual([]);
      await page.context().close();
    },
    MANY_FACES_MS,
  );
});
