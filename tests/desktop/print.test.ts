import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { extractImages, extractText, getDocumentProxy } from 'unpdf';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { nurseAt } from '../screens/nurse.ts';
import { sessionBefore } from '../screens/sent-commands.ts';
import { type Desktop, desktop, HAS_DESKTOP, SOON } from './desktop.ts';

describe.skipIf(!HAS_DESKTOP)('printing on the desktop', () => {
  let desk: Desktop;
  let downloads: string;

  beforeAll(async () => {
    desk = await desktop();
    downloads = join(desk.folder, 'downloads');
    await desk.app.evaluate(({ app }, folder) => app.setPath('downloads', folder), downloads);
    await sessionBefore(desk.console, 'prime-line');
  });
  afterAll(() => desk?.stop());

  const saved = (): string[] => (existsSync(downloads) ? readdirSync(downloads).sort() : []);

  test('two keys save the syringe label as a PDF, with its Data Matrix', async () => {
    const nurse = nurseAt(desk.console);
    await nurse.pressUntil('k', nurse.form);
    await nurse.press('1');
    await nurse.said.getByText('is made: look where downloads are kept').waitFor();
    await expect.poll(saved, SOON).toEqual([expect.stringMatching(/^.*label.*\.pdf$/)]);
    const pdf = await pdfIn(join(downloads, saved()[0] ?? ''));
    expect((await extractText(pdf, { mergePages: true })).text).toMatch(/verteporfin[\s\S]*K-2041/);
    const images = await extractImages(pdf, 1);
    // ISO/IEC 16022: a Data Matrix is square, or one of few oblongs; this one is as it is drawn for a scanner.
    expect(images.map(({ width, height }) => width === height)).toEqual([true]);
  });

  test('made again, it is saved beside the first', async () => {
    const nurse = nurseAt(desk.console);
    await nurse.pressUntil('k', nurse.form);
    await nurse.press('1');
    // While it is written it has a name of Chromium's own.
    await expect.poll(saved, SOON).toEqual([expect.stringMatching(/ \(2\)\.pdf$/), expect.stringMatching(/\.pdf$/)]);
  });
});

/** Polled, since a file is there before all of it is written. */
async function pdfIn(path: string) {
  await expect.poll(() => readFileSync(path).subarray(-8).toString('latin1'), SOON).toContain('%%EOF');
  return getDocumentProxy(new Uint8Array(readFileSync(path)));
}
