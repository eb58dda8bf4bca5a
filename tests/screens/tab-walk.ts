import type { Page } from 'playwright';

/** A thing that Tab led to, or should have. */
export interface Stop {
  /** What it is, for people: a group of choices is one thing. */
  readonly words: string;
  readonly box: Box;
  /** The column or bar that it stands in. */
  readonly region: Box;
  /** What it moves in, within that; null where it stands still. */
  readonly scroller: Box | null;
  /** Whether it is seen in the window, with nothing over it. */
  readonly seen: boolean;
  /** What marks it, as it is drawn with the focus on it. */
  readonly marks: string;
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

export interface Walk {
  readonly stops: readonly Stop[];
  /** Everything that can have the focus, in the order of the page. */
  readonly wanted: readonly string[];
  /** Of each stop, what marks it while the focus is elsewhere. */
  readonly unmarked: ReadonlyMap<string, string>;
  /** Tab went round, or out of the page. */
  readonly ended: boolean;
}

/** Goes through a page by Tab, from its beginning until it comes round. */
export async function tabThrough(page: Page): Promise<Walk> {
  await page.evaluate(installWatcher);
  const wanted = await page.evaluate(() => window.tabWatcher.wanted());
  await page.evaluate(() => window.tabWatcher.toBeginning());
  const stops: Stop[] = [];
  let ended = false;
  for (let tabs = 0; tabs < wanted.length + 3 && !ended; tabs += 1) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(() => window.tabWatcher.stop());
    ended = stop === null || stops.some(({ words }) => words === stop.words);
    if (stop !== null && !ended) stops.push(stop);
  }
  await page.evaluate(() => window.tabWatcher.toBeginning());
  const unmarked = await page.evaluate(() => window.tabWatcher.marks());
  return { stops, wanted, unmarked: new Map(unmarked), ended };
}

/** What is wrong with a walk, in words. */
export function faultsOf({ stops, wanted, unmarked, ended }: Walk): string[] {
  const reached = stops.map(({ words }) => words);
  return [
    ...(ended ? [] : ['Tab does not come round']),
    ...wanted.filter((words) => !reached.includes(words)).map((words) => `${words}: no Tab leads to it`),
    ...reached.filter((words) => !wanted.includes(words)).map((words) => `${words}: Tab leads to it unseen`),
    ...stops.filter(({ seen }) => !seen).map(({ words }) => `${words}: not in sight`),
    ...stops.filter(({ words, marks }) => unmarked.get(words) === marks).map(({ words }) => `${words}: no mark`),
    ...stops.flatMap((stop, index) => {
      const before = stops[index - 1];
      return before === undefined || follows(before, stop) ? [] : [`${stop.words}: comes after ${before.words}`];
    }),
  ];
}

/** As one reads: on in the line or below it; a column after the one to its left, a bar after what is above it. */
function follows(before: Stop, stop: Stop): boolean {
  if (!sameBox(before.region, stop.region)) return onOrBelow(before.region, stop.region);
  if (sameBox(before.scroller, stop.scroller)) return onOrBelow(before.box, stop.box);
  return onOrBelow(before.scroller ?? before.box, stop.scroller ?? stop.box);
}

const sameBox = (one: Box | null, other: Box | null): boolean => one?.left === other?.left && one?.top === other?.top;

function onOrBelow(before: Box, after: Box): boolean {
  const shared = Math.min(before.bottom, after.bottom) - Math.max(before.top, after.top);
  const lower = Math.min(before.bottom - before.top, after.bottom - after.top);
  return shared > lower / 2 ? after.left >= before.right - 1 : after.top >= before.top;
}

interface TabWatcher {
  wanted(): string[];
  toBeginning(): void;
  stop(): Stop | null;
  marks(): [words: string, marks: string][];
}

declare global {
  interface Window {
    tabWatcher: TabWatcher;
  }
}

/** Runs in the page. */
function installWatcher(): void {
  const FOCUSABLE = 'a[href], button, input, select, textarea, [tabindex], summary, [contenteditable]';
  const REGIONS = 'dialog, .columns > *, .settings-columns > *, .console > *, .ledger > *, body > *';
  /** Choices are one thing, as Tab has it. */
  const thing = (element: Element): Element => element.closest('[role="radiogroup"]') ?? element;
  const names = new Map<Element, string>();

  /** Its words, and its number among those that have the same. */
  const nameOf = (element: Element): string => {
    const known = names.get(element);
    if (known !== undefined) return known;
    const label = element.getAttribute('aria-labelledby') ?? '';
    const own = document.getElementById(label)?.textContent ?? element.getAttribute('aria-label');
    const labelled = element instanceof HTMLInputElement ? element.labels?.[0]?.textContent : null;
    const words = (own ?? labelled ?? element.textContent ?? '').replace(/\s+/g, ' ').trim().slice(0, 50);
    const first = `${element.tagName.toLowerCase()} "${words}"`;
    const same = [...names.values()].filter((name) => name.startsWith(first)).length;
    const name = same === 0 ? first : `${first} ${same + 1}`;
    names.set(element, name);
    return name;
  };

  const boxOf = (element: Element): Box => {
    const { left, top, right, bottom } = element.getBoundingClientRect();
    let scrolled = 0;
    for (let around = element.parentElement; around !== null; around = around.parentElement)
      scrolled += around.scrollTop;
    return { left, right, top: top + scrolled, bottom: bottom + scrolled };
  };

  const isScrolled = (element: Element): boolean =>
    element.scrollHeight > element.clientHeight && ['auto', 'scroll'].includes(getComputedStyle(element).overflowY);

  /** What an element moves in, below a region. */
  const scrollerOf = (element: Element, region: Element): Element | null => {
    for (let around = element.parentElement; around !== null && around !== region; around = around.parentElement)
      if (isScrolled(around)) return around;
    return null;
  };

  const isSeen = (element: Element): boolean => {
    const { left, top, right, bottom } = element.getBoundingClientRect();
    const within = left >= -1 && right <= innerWidth + 1 && bottom > 0 && top < innerHeight;
    // What is longer than the window is seen in part.
    const whole = bottom - top > innerHeight / 2 || (top >= -1 && bottom <= innerHeight + 1);
    const y = (Math.max(0, top) + Math.min(innerHeight, bottom)) / 2;
    const over = document.elementFromPoint((left + right) / 2, y);
    return within && whole && element.contains(over);
  };

  const marksOf = (element: Element): string => {
    const parts = element.matches('[role="radiogroup"]')
      ? [...element.querySelectorAll('label, input')]
      : [element, ...(element.parentElement === null ? [] : [element.parentElement])];
    return parts
      .map((part) => {
        const { outlineStyle, outlineWidth, outlineColor, boxShadow, borderColor, borderWidth } =
          getComputedStyle(part);
        const outline = outlineStyle === 'none' ? 'none' : `${outlineWidth} ${outlineColor}`;
        return `${outline} ${boxShadow} ${borderColor} ${borderWidth}`;
      })
      .join('; ');
  };

  const takesFocus = (element: HTMLElement): boolean =>
    element.matches(FOCUSABLE) && element.tabIndex >= 0 && !element.matches(':disabled');

  /** Chromium has the keyboard reach whatever scrolls and has nothing else in it that is reached. */
  const scrolls = (element: HTMLElement): boolean =>
    isScrolled(element) && ![...element.querySelectorAll<HTMLElement>('*')].some(takesFocus);

  const focusable = (): Element[] => {
    const open = [...document.querySelectorAll('dialog[open]')].at(-1);
    const all = [...(open ?? document.body).querySelectorAll<HTMLElement>('*')].filter(
      (element) => element.checkVisibility() && (takesFocus(element) || scrolls(element)),
    );
    return [...new Set(all.map(thing))];
  };

  window.tabWatcher = {
    wanted: () => focusable().map(nameOf),
    toBeginning: () => {
      const place = document.querySelector('dialog[open]') ?? document.body;
      const first = document.createElement('span');
      first.tabIndex = -1;
      place.prepend(first);
      first.focus();
      first.remove();
    },
    stop: () => {
      const at = document.activeElement;
      if (at === null || at === document.body) return null;
      const element = thing(at);
      const region = at.closest(REGIONS) ?? document.body;
      const scroller = scrollerOf(element, region);
      return {
        words: nameOf(element),
        box: boxOf(element),
        region: boxOf(region),
        scroller: scroller && boxOf(scroller),
        seen: isSeen(at.closest('label') ?? at),
        marks: marksOf(element),
      };
    },
    marks: () => focusable().map((element) => [nameOf(element), marksOf(element)]),
  };
}
