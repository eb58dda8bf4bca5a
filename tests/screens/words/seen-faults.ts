import type { Page } from 'playwright';
import type { Language } from '../../../core/settings/language.ts';

/**
 * What a screen should say in a language and does not: a page marks as English what it has no words for. The ledger and
 * faults of a file are English.
 */
export const notSaid = (page: Page, language: Language): Promise<string[]> =>
  page.evaluate((wanted) => {
    const { lang } = document.documentElement;
    const left = [...document.querySelectorAll('#screen [lang="en"]:not([translate="no"])')].filter(
      (one) => one.closest('.columns-ledger[lang="en"]') === null,
    );
    return [
      ...(lang === wanted ? [] : [`the page says that it speaks ${lang}`]),
      ...left.map((one) => `in English: ${one.textContent?.trim() || one.outerHTML.slice(0, 120)}`),
    ];
  }, language);

/** Words of a screen that are cut off, out of sight, or on other words. What a form's fields or a review scroll is in its place. */
export const unseen = (page: Page): Promise<string[]> => page.evaluate(findUnseen);

/** Runs in the page. */
function findUnseen(): string[] {
  interface Drawn {
    readonly words: string;
    readonly node: Node;
    readonly box: DOMRect;
  }
  const ROUNDING_PX = 1;
  /** Of a line of letters, what is air above and below. */
  const AIR = 0.22;

  const drawn: Drawn[] = [];
  const screen = document.getElementById('screen');
  if (screen === null) return ['there is no screen'];
  const texts = document.createTreeWalker(screen, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const node = texts.currentNode;
    const holder = node.parentElement;
    const words = node.textContent?.trim() ?? '';
    if (words === '' || holder === null || holder.closest('.unseen, .big-count') !== null) continue;
    if (!holder.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    for (const box of range.getClientRects()) if (box.width > 0) drawn.push({ words, node, box });
  }

  /** Whoever cuts off what runs over its edge; fields that scroll, and reasons that are shortened, may. */
  const cutters = (node: Node): Element[] => {
    const all: Element[] = [];
    for (let one = node.parentElement; one !== null && one !== document.body; one = one.parentElement) {
      if (one.matches('.form-fields, .head-reason, .guide-review')) return all;
      if (getComputedStyle(one).overflowX !== 'visible' && !(one instanceof HTMLInputElement)) all.push(one);
    }
    return all;
  };
  const sight = new DOMRect(0, 0, document.documentElement.clientWidth, document.documentElement.clientHeight);
  const within = (box: DOMRect, place: DOMRect): boolean => {
    const air = box.height * AIR;
    return (
      box.left >= place.left - ROUNDING_PX &&
      box.right <= place.right + ROUNDING_PX &&
      box.top + air >= place.top - ROUNDING_PX &&
      box.bottom - air <= place.bottom + ROUNDING_PX
    );
  };
  const faults = new Set<string>();
  const whole: Drawn[] = [];
  for (const one of drawn) {
    const { words, node, box } = one;
    const scrolled = node.parentElement?.closest('.form-fields, .guide-review') ?? null;
    if (scrolled === null && !within(box, sight)) faults.add(`out of sight: ${words}`);
    const cutter = cutters(node).find((each) => !within(box, each.getBoundingClientRect()));
    if (cutter !== undefined) faults.add(`cut off by ${cutter.className || cutter.tagName}: ${words}`);
    else if (scrolled === null || within(box, scrolled.getBoundingClientRect())) whole.push(one);
  }
  const above = (one: DOMRect, other: DOMRect): number => {
    const air = Math.max(one.height, other.height) * AIR;
    return Math.min(one.bottom, other.bottom) - Math.max(one.top, other.top) - air;
  };
  whole.forEach((one, index) => {
    for (const other of whole.slice(index + 1)) {
      if (one.node === other.node) continue;
      if (one.node.parentElement?.closest('dialog') !== other.node.parentElement?.closest('dialog')) continue;
      const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
      if (across > ROUNDING_PX && above(one.box, other.box) > ROUNDING_PX) {
        faults.add(`"${one.words}" lies on "${other.words}"`);
      }
    }
  });
  for (const place of document.querySelectorAll('.columns > *, .head, .foot, .way-on')) {
    const [down, across] = [place.scrollHeight - place.clientHeight, place.scrollWidth - place.clientWidth];
    if (down > ROUNDING_PX || across > ROUNDING_PX) {
      faults.add(`${place.className} would have to be ${Math.max(0, down)} px higher, ${Math.max(0, across)} px wider`);
    }
  }
  return [...faults];
}
