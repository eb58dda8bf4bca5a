import { mkdirSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright';
import { expect } from 'playwright/test';

/** A person in the ledger room, who has nothing but its keyboard and what stands on the screen. */
export type Auditor = ReturnType<typeof auditorAt>;

/** The machine may have much else to do. */
const SOON = { timeout: 60_000 };

/** `downloads` is where a desktop saves files; a browser hands them over itself. */
export function auditorAt(page: Page, downloads: string | null = null) {
  const rows = (name: string): Locator => page.getByRole('list', { name }).getByRole('listitem');
  const press = (key: string): Promise<void> => page.keyboard.press(key);
  const view = (words: string | RegExp): Locator =>
    page.getByRole('navigation', { name: 'views of the session' }).getByRole('button', { name: words });

  /** Exports by its number and gives the path of the file that came. */
  async function exported(number: number): Promise<{ name: string; path: string }> {
    if (downloads !== null) return savedBy(downloads, () => press(String(number)));
    const coming = page.waitForEvent('download', SOON);
    await press(String(number));
    const download = await coming;
    const path = await download.path();
    return { name: download.suggestedFilename(), path };
  }

  return {
    page,
    press,
    view,
    exported,
    sessions: rows('sessions'),
    entries: rows('entries'),
    deviations: rows('deviations'),
    here: page.locator('.row[data-here="true"]'),
    type: (text: string): Promise<void> => page.keyboard.type(text),
    /** Waits for words on the screen. */
    sees: (words: string | RegExp): Promise<void> => expect(page.getByText(words).first()).toBeVisible(SOON),
  };
}

/** The one file that comes into a folder, once it is there under its own name. */
async function savedBy(folder: string, make: () => Promise<void>): Promise<{ name: string; path: string }> {
  mkdirSync(folder, { recursive: true });
  const before = readdirSync(folder);
  const fresh = (): string | undefined => readdirSync(folder).find((name) => !before.includes(name));
  const sizeOf = (): number => statSync(join(folder, fresh() ?? '.')).size;
  await make();
  await expect.poll(fresh, SOON).toBeTruthy();
  let size = -1;
  await expect
    .poll(() => {
      const last = size;
      size = sizeOf();
      return size > 0 && size === last;
    }, SOON)
    .toBe(true);
  const name = fresh() ?? '';
  return { name, path: join(folder, name) };
}
