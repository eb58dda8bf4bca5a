import type { Locator, Page } from 'playwright';
import { expect } from 'playwright/test';

/** A person at the console, who has nothing but its keyboard and what stands on the screen. */
export type Nurse = ReturnType<typeof nurseAt>;

/** As they stand in the list of roles: each is chosen by its number. */
const ROLES = ['nurse', 'operator', 'physician'] as const;

/** A press that comes too soon after a change is not taken. A person looks this long, and presses again. */
const LOOK_MS = 800;
const MOST_FIELDS = 40;
/** What answers a key, and what the clock brings about in practice. */
const SOON_MS = 15_000;
const OPENS_MS = 30_000;

/** What to type into a form, field by field, by the fields' words: text, the number of a choice, or `y` and `n`. */
export type Typed = Readonly<Record<string, string>>;

/**
 * `say` has what stands on the screen in place of the English that a test names it by; `opensMs` is how long the way on
 * is waited for.
 */
export function nurseAt(page: Page, say: (words: string) => string = (words) => words, opensMs = OPENS_MS) {
  const { keyboard } = page;
  const form = page.locator('form', { has: page.getByRole('heading', { level: 1 }) });
  const wayOnLine = page.locator('.dock button.way-on');
  const said = page.locator('.said');
  const tooSoon = said.getByText(say('that has just changed: look, then press again'));
  const tasks = page.getByRole('list', { name: say('to do here') }).getByRole('listitem');
  const taskLine = (number: number): Locator => tasks.nth(number - 1).getByRole('button');

  const press = (key: string): Promise<void> => keyboard.press(key);
  const look = (): Promise<void> => page.waitForTimeout(LOOK_MS);

  /** Presses a key until what it is for has come about, again only where the console says that it came too soon. */
  async function pressUntil(key: string, done: Locator): Promise<void> {
    while (!(await done.first().isVisible())) {
      await press(key);
      await done.or(tooSoon).first().waitFor({ timeout: SOON_MS });
      if (!(await done.first().isVisible())) await look();
    }
  }

  /** A field that is typed into: one whose digits are hidden has no role of its own. */
  const textAt = (words: string): Locator =>
    form
      .getByRole('textbox', { name: say(words), exact: true })
      .or(form.getByLabel(say(words), { exact: true }).and(page.locator('input[type="password"]')));

  /** Goes to a field by Tab. */
  async function goTo(words: string): Promise<void> {
    const named = { name: say(words), exact: true };
    const field = textAt(words).or(form.getByRole('radiogroup', named));
    for (let tabs = 0; tabs < MOST_FIELDS; tabs += 1) {
      if (await field.evaluate((node) => node.contains(document.activeElement))) return;
      await press('Tab');
    }
    throw new Error(`no Tab leads to "${words}"`);
  }

  async function type(typed: Typed): Promise<void> {
    for (const [words, text] of Object.entries(typed)) {
      await goTo(words);
      const isText = (await textAt(words).count()) > 0;
      // What stands there already is typed over.
      if (isText) await press('ControlOrMeta+a');
      await keyboard.type(text);
    }
  }

  /** Enter in a form, until it is entered and gone. */
  async function enter(): Promise<void> {
    await expect(async () => {
      await press('Enter');
      await form.waitFor({ state: 'hidden', timeout: 1_500 });
    }).toPass({ timeout: SOON_MS, intervals: [100] });
  }

  /** Opens a form by its key, fills it in and enters it. */
  async function tell(key: string, typed: Typed): Promise<void> {
    await pressUntil(key, form);
    await type(typed);
    await enter();
  }

  /** Enter on the framed line, as soon as it is open: until it leads on, or opens a form. */
  async function wayOn(english: string): Promise<void> {
    const words = say(english);
    await page.locator('.dock button.way-on[data-open="true"]', { hasText: words }).waitFor({ timeout: opensMs });
    await pressUntil('Enter', form.or(wayOnLine.filter({ hasNotText: words })));
  }

  return {
    page,
    say,
    form,
    wayOnLine,
    said,
    taskLine,
    press,
    look,
    type,
    enter,
    tell,
    wayOn,
    goTo,
    pressUntil,
    signIn: (initials: string, role: (typeof ROLES)[number]): Promise<void> =>
      tell('w', { initials, role: String(ROLES.indexOf(role) + 1) }),
    /** Confirms a task by its number. */
    task: (number: number): Promise<void> =>
      pressUntil(String(number), page.locator(`ol.tasks > li:nth-child(${number}) > [data-done="true"]`)),
    /** Opens the form of a task, fills it in and enters it. */
    taskWith: async (number: number, typed: Typed): Promise<void> => {
      await tell(String(number), typed);
      await expect(taskLine(number)).toHaveAttribute('data-done', 'true');
    },
    stateIs: (words: string): Promise<void> => expect(page.getByRole('heading', { level: 1 })).toHaveText(say(words)),
  };
}
