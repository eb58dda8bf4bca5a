import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Homes, keptOf, placementOf, type SeenDisplay } from '../../electron/shell/placement.ts';

const display = (id: number, x: number, more: Partial<SeenDisplay> = {}, width = 1920, height = 1080): SeenDisplay => ({
  id,
  label: '',
  internal: false,
  bounds: { x, y: 0, width, height },
  ...more,
});

const BUILT_IN = display(1, 0, { label: 'built in', internal: true }, 1280, 800);
const WALL = display(2, 1280, { label: 'wall' });
const SPARE = display(3, 3200, { label: 'spare' });
const UNKNOWN: Homes = { console: null, board: null };
const ON_WALL: Homes = { console: keptOf(BUILT_IN), board: keptOf(WALL) };

const idsOf = (displays: readonly SeenDisplay[], homes: Homes, primaryId = displays[0]?.id ?? 0) => {
  const { console, board } = placementOf(displays, primaryId, homes);
  return { console: console.id, board: board?.id ?? null };
};

describe('where console and board stand', () => {
  test('at a first start: the console on the primary display, the board on the first of the others', () => {
    expect(idsOf([BUILT_IN, WALL, SPARE], UNKNOWN)).toEqual({ console: 1, board: 2 });
    expect(idsOf([WALL, BUILT_IN], UNKNOWN, BUILT_IN.id)).toEqual({ console: 1, board: 2 });
    expect(idsOf([SPARE, WALL, BUILT_IN], UNKNOWN, WALL.id)).toEqual({ console: 2, board: 1 });
  });

  test('on one display there is no board, whoever it was home to', () => {
    expect(idsOf([BUILT_IN], ON_WALL)).toEqual({ console: 1, board: null });
    expect(idsOf([WALL], ON_WALL)).toEqual({ console: 2, board: null });
  });

  test('of three displays the remembered one has the board, and after it is lost another', () => {
    const onSpare: Homes = { console: keptOf(BUILT_IN), board: keptOf(SPARE) };
    expect(idsOf([BUILT_IN, WALL, SPARE], onSpare)).toEqual({ console: 1, board: 3 });
    expect(idsOf([BUILT_IN, WALL], onSpare)).toEqual({ console: 1, board: 2 });
  });

  test('changed over, the console is on the wall and the board is built in, whichever is primary', () => {
    const swapped: Homes = { console: keptOf(WALL), board: keptOf(BUILT_IN) };
    expect(idsOf([BUILT_IN, WALL], swapped)).toEqual({ console: 2, board: 1 });
    expect(idsOf([BUILT_IN, WALL, SPARE], swapped, SPARE.id)).toEqual({ console: 2, board: 1 });
  });

  test('a console whose display is gone goes to the primary one, and to another where the board is there', () => {
    expect(idsOf([SPARE, WALL], ON_WALL)).toEqual({ console: 3, board: 2 });
    expect(idsOf([WALL, SPARE], ON_WALL)).toEqual({ console: 3, board: 2 });
  });
});

describe('a display is known again', () => {
  test('when it was turned upright, or shows another number of pixels', () => {
    const upright = display(2, 1280, { label: 'wall' }, 1080, 1920);
    expect(idsOf([BUILT_IN, SPARE, upright], ON_WALL).board).toBe(2);
    const scaled = display(2, 1280, { label: 'wall' }, 1280, 720);
    expect(idsOf([BUILT_IN, SPARE, scaled], ON_WALL).board).toBe(2);
  });

  test('when the system numbered the displays anew, though it stands elsewhere or was turned upright', () => {
    const renumbered = [
      { ...BUILT_IN, id: 70 },
      { ...SPARE, id: 2 },
    ];
    const moved = display(71, 5120, { label: 'wall' });
    const turned = display(71, 5120, { label: 'wall' }, 1080, 1920);
    for (const wall of [moved, turned])
      expect(idsOf([...renumbered, wall], ON_WALL)).toEqual({ console: 70, board: 71 });
  });

  test('by its place, when it is one of two of a kind with new numbers', () => {
    const left = display(8, 0, { label: 'desk' });
    const right = display(9, 1920, { label: 'desk' });
    const anew = [
      { ...left, id: 80 },
      { ...right, id: 90 },
    ];
    const homes = (console: SeenDisplay, board: SeenDisplay): Homes => ({
      console: keptOf(console),
      board: keptOf(board),
    });
    expect(idsOf(anew, homes(left, right), 80)).toEqual({ console: 80, board: 90 });
    expect(idsOf(anew, homes(right, left), 80)).toEqual({ console: 90, board: 80 });
  });

  test('and another monitor on its socket is not taken for it', () => {
    const another = { ...SPARE, id: WALL.id };
    const wallElsewhere = { ...WALL, id: 9 };
    expect(idsOf([BUILT_IN, another, wallElsewhere], ON_WALL).board).toBe(9);
  });

  test('and while it is away its twin, where the console is, is not taken from the console', () => {
    const nurse = display(1, 0, { label: 'desk' });
    const operator = display(2, 1920, { label: 'desk' });
    const third = display(3, 3840, { label: 'other' });
    const homes: Homes = { console: keptOf(nurse), board: keptOf(operator) };
    expect(idsOf([nurse, third], homes)).toEqual({ console: 1, board: 3 });
  });
});

describe('whatever displays there are, and whatever is remembered', () => {
  const anyDisplay = fc.record({
    id: fc.integer({ min: 1, max: 6 }),
    label: fc.constantFrom('', 'desk', 'wall'),
    internal: fc.boolean(),
    bounds: fc.record({
      x: fc.constantFrom(0, 1280, 1920, -1920),
      y: fc.constantFrom(0, 800),
      width: fc.constantFrom(1280, 1920),
      height: fc.constantFrom(800, 1080, 1920),
    }),
  });
  const anyDisplays = fc.uniqueArray(anyDisplay, { minLength: 1, maxLength: 4, selector: ({ id }) => id });
  const anyHome = fc.option(anyDisplay.map(keptOf));
  const anyHomes = fc.record({ console: anyHome, board: anyHome });

  test('the console has a display, and the board another one if there is one', () => {
    fc.assert(
      fc.property(anyDisplays, anyHomes, (displays, homes) => {
        const { console, board } = placementOf(displays, displays[0]?.id ?? 0, homes);
        expect(displays).toContain(console);
        expect(board !== null).toBe(displays.length > 1);
        if (board !== null) expect(displays).toContain(board);
        expect(board).not.toBe(console);
      }),
    );
  });

  test('nothing moves when a start finds everything as it was left', () => {
    fc.assert(
      fc.property(anyDisplays, anyHomes, (displays, homes) => {
        const primaryId = displays[0]?.id ?? 0;
        const left = placementOf(displays, primaryId, homes);
        if (left.board === null) return;
        const kept: Homes = { console: keptOf(left.console), board: keptOf(left.board) };
        expect(placementOf(displays, primaryId, kept)).toEqual(left);
      }),
    );
  });
});
