import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { newFolder, newRequestId, startStation } from '../station/station-under-test.ts';
import { pagesIn } from './read-pdf.ts';

test.each([
  ['en', 'when something is wrong'],
  ['de', 'wenn etwas nicht stimmt'],
  ['es', 'cuando algo va mal'],
  ['fr', 'quand quelque chose ne va pas'],
])('where the site speaks %s, the station’s card for the wall does too', async (language, heading) => {
  const folder = newFolder();
  writeFileSync(join(folder, 'settings.json'), JSON.stringify({ language }));
  const station = await startStation(folder);
  const card = await station.askAndWait({ type: 'print-quick-card', requestId: newRequestId() });
  if (card.type !== 'printed') throw new Error(JSON.stringify(card));
  expect(card.fileName).toBe('dimroom-quick-card.pdf');
  const pages = await pagesIn(new Uint8Array(Buffer.from(card.pdfBase64, 'base64')));
  expect(pages).toEqual([expect.stringContaining(heading)]);
});
