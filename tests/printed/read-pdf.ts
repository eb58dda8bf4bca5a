import { extractText, getDocumentProxy } from 'unpdf';
import type { Sheet } from '../../core/report/sheet.ts';

/** Each page's words as a reader finds them: spaces made one, and the two signs for micro. */
export async function pagesIn(pdf: Uint8Array): Promise<string[]> {
  const { text } = await extractText(await getDocumentProxy(new Uint8Array(pdf)));
  // A word that breaks at its own hyphen is one word.
  return text.map((page) => plain(page).replace(/(?<=\p{L}-) (?=\p{L})/gu, ''));
}

/** Everything that a sheet says, in its order, without its foot. */
export function saidBy({ marks, title, size, blocks }: Sheet): string {
  const texts = blocks.flatMap((block) => {
    if (block.kind === 'rows') return block.rows.flat();
    return block.kind === 'list' ? block.items.map((item) => `• ${item}`) : [block.text];
  });
  const hasTitle = size !== 'label' && size !== 'wrist';
  return plain([...marks, ...(hasTitle ? [title] : []), ...texts].join(' '));
}

/** As it is compared: spaces of every kind made one. */
export const plain = (text: string): string => text.replaceAll('\u03BC', 'µ').replace(/\s+/g, ' ').trim();

/** Names of the fonts in a file, and how many of them it carries itself. */
export function fontsIn(pdf: Uint8Array): { names: string[]; described: number; carried: number } {
  const source = Buffer.from(pdf).toString('latin1');
  const names = [...source.matchAll(/\/Type \/Font\b[^>]*?\/BaseFont \/([^\s/]+)/gs)].map(([, name]) => name ?? '');
  return {
    names,
    described: source.match(/\/Type \/FontDescriptor/g)?.length ?? 0,
    carried: source.match(/\/FontFile[23]? \d+ 0 R/g)?.length ?? 0,
  };
}

/** Every piece of text with the size it is set in, points, and whether it stands within its page. */
export async function lettersIn(pdf: Uint8Array): Promise<{ text: string; sizePt: number; within: boolean }[]> {
  const document = await getDocumentProxy(new Uint8Array(pdf));
  const pages = await Promise.all(Array.from({ length: document.numPages }, (_, index) => document.getPage(index + 1)));
  const contents = await Promise.all(pages.map(async (page) => ({ page, content: await page.getTextContent() })));
  return contents.flatMap(({ page, content }) => {
    const { width, height } = page.getViewport({ scale: 1 });
    return content.items.flatMap((item) => {
      if (!('str' in item) || item.str.trim() === '') return [];
      const [, , , sizePt = 0, x = 0, y = 0] = item.transform.map(Number);
      const within = x >= 0 && x + item.width <= width && y >= 0 && y + sizePt <= height;
      return [{ text: item.str, sizePt, within }];
    });
  });
}
