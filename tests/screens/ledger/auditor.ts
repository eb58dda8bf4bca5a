import type { Locator, Page } from 'playwright';
import { expect } from 'playwright/test';

/** A person in the ledger room, who has nothing but its keyboard and what stands on the screen. */
export type Auditor = ReturnType<typeof auditorAt>;

/** The machine may have much else to do. */
const SOON = { timeout: 60_000 };

export function auditorAt(page: Page) {
  const rows = (name: string): Locator => page.getByRole('list', { name }).getByRole('listitem');
  const press = (key: string): Promise<void> => page.keyboard.press(key);
  const view = (words: string | RegExp): Locator =>
    page.getByRole('navigation', { name: 'views of the session' }).getByRole('button', { name: words });

  /** Exports by its number and gives the path of the file that came. */
  async function exported(number: number): Promise<{ name: string; path: string }> {
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
