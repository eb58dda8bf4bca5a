import type { Page } from 'playwright';

/** Kept for a person to look at, where a folder is named. */
export async function keepPicture(page: Page, name: string): Promise<void> {
  const folder = process.env.DIMROOM_SHOTS;
  if (folder !== undefined) await page.screenshot({ path: `${folder}/${name.replaceAll(/[ ,]+/g, '-')}.png` });
}
