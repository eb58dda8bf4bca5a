import type { Page } from 'playwright';

export interface DrawnBox {
  /** The words, or the name of the shape. */
  readonly what: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Everything that is written or drawn on the board, each as high as its letters are, in CSS pixels. */
export const drawnBoxes = (page: Page): Promise<DrawnBox[]> => page.evaluate(readBoxes);

/** Points along the arc's line. */
export const arcPoints = (page: Page): Promise<{ x: number; y: number }[]> =>
  page.evaluate(() => {
    const way = document.querySelector<SVGPathElement>('.day-arc-way');
    const frame = way?.ownerSVGElement?.getBoundingClientRect();
    if (!way || !frame) return [];
    return Array.from({ length: 201 }, (_, step) => {
      const { x, y } = way.getPointAtLength((way.getTotalLength() * step) / 200);
      return { x: x + frame.x, y: y + frame.y };
    });
  });

/**
 * Runs in the page. B612: letters rise to 0.76 em and fall to 0.21 em, its line box takes 0.965 and 0.25 em; a digit is
 * up to 0.52 em wide, in an advance of 0.65 em.
 */
function readBoxes(): DrawnBox[] {
  const boxes: DrawnBox[] = [];
  const add = (what: string, box: DOMRect, above = 0, below = 0, aside = 0): void => {
    if (box.width < 1 || box.height < 1) return;
    boxes.push({
      what,
      left: box.left + box.width * aside,
      right: box.right - box.width * aside,
      top: box.top + box.height * above,
      bottom: box.bottom - box.height * below,
    });
  };
  const board = document.querySelector('.board');
  if (board === null) throw new Error('there is no board');
  const texts = document.createTreeWalker(board, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const { currentNode } = texts;
    const words = currentNode.textContent?.trim() ?? '';
    if (words === '') continue;
    const range = document.createRange();
    range.selectNodeContents(currentNode);
    const falls = /[gjpqy(),;/]/.test(words) ? 0.03 : 0.2;
    const aside = currentNode.parentElement?.matches('.big-count-digit') ? 0.1 : 0;
    for (const rect of range.getClientRects()) add(words, rect, 0.165, falls, aside);
  }
  for (const shape of board.querySelectorAll(
    '.board-shape, .board-notice-shape, .light-window, .day-arc-now, .board-measure',
  )) {
    add(shape.getAttribute('class') ?? '', shape.getBoundingClientRect());
  }
  return boxes;
}
