import { expect, test } from 'vitest';
import { bringOnto } from '../../electron/shell/bring-onto.ts';

const WALL = { x: 1280, y: 0, width: 1920, height: 1080 };

/** A window on a display of one scale factor that, moved to one of another, first takes its old scale along. */
function pretendWindow(fromScale: number, toScale: number) {
  let bounds = { x: 0, y: 0, width: 800, height: 600 };
  let onTarget = false;
  const moves: (typeof WALL)[] = [];
  return {
    moves,
    getBounds: () => bounds,
    setBounds: (place: typeof WALL) => {
      const carried = onTarget ? 1 : fromScale / toScale;
      bounds = { ...place, width: place.width * carried, height: place.height * carried };
      onTarget = true;
      moves.push(place);
    },
  };
}

test.each([
  [1, 2],
  [1.5, 1],
  [2.25, 1.25],
])('a window that is moved from a display of scale %d to one of %d fills its place', (from, to) => {
  const window = pretendWindow(from, to);
  bringOnto(window, WALL);
  expect(window.getBounds()).toEqual(WALL);
});

test('a window that arrives is moved once', () => {
  const window = pretendWindow(1, 1);
  bringOnto(window, WALL);
  expect(window.moves).toHaveLength(1);
});

test('a window that the window system holds back is not moved for ever', () => {
  let moves = 0;
  const setBounds = (): void => {
    moves += 1;
  };
  bringOnto({ getBounds: () => ({ ...WALL, height: 1040 }), setBounds }, WALL);
  expect(moves).toBeGreaterThan(1);
  expect(moves).toBeLessThan(10);
});
