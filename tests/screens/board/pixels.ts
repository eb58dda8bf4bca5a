import type { Page } from 'playwright';

/** Colours of a picture, by relative luminance as WCAG 2 defines it (W3C, WCAG 2.2, "relative luminance"). */
export interface Picture {
  /** Mean over all pixels: the light that the board throws into the room, as a share of a white screen's. */
  readonly meanLuminance: number;
  /** The darkest and brightest colour that covers more than stray pixels: the ground, and what is written on it. */
  readonly darkest: number;
  readonly brightest: number;
  /** Pixels in which red outweighs both others by far, as the treatment beam and alarms do. */
  readonly red: number;
}

interface Part {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** A picture of the page, or of a part of it, as it is shown: with whatever colour vision is emulated. */
export async function picture(page: Page, clip?: Part): Promise<Picture> {
  const png = (await page.screenshot({ type: 'png', ...(clip && { clip }) })).toString('base64');
  return page.evaluate(readPicture, png);
}

/** WCAG 2.2, "contrast ratio". */
export const contrast = ({ brightest, darkest }: Picture): number => (brightest + 0.05) / (darkest + 0.05);

/** Runs in the page. */
async function readPicture(png: string): Promise<Picture> {
  const image = await createImageBitmap(await (await fetch(`data:image/png;base64,${png}`)).blob());
  const pen = new OffscreenCanvas(image.width, image.height).getContext('2d');
  if (pen === null) throw new Error('the page has no canvas');
  pen.drawImage(image, 0, 0);
  const { data } = pen.getImageData(0, 0, image.width, image.height);
  const counts = new Map<number, number>();
  for (const colour of new Uint32Array(data.buffer)) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  const linear = (part: number): number => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4);
  const pixels = image.width * image.height;
  const read = { sum: 0, darkest: 1, brightest: 0, red: 0 };
  for (const [colour, count] of counts) {
    // Little-endian: red lies lowest.
    const [r, g, b] = [colour & 255, (colour >> 8) & 255, (colour >> 16) & 255].map((part) => part / 255) as [
      number,
      number,
      number,
    ];
    const luminance = 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
    read.sum += luminance * count;
    if (r > 0.15 && r > 1.8 * Math.max(g, b)) read.red += count;
    if (count < pixels / 2000) continue;
    read.darkest = Math.min(read.darkest, luminance);
    read.brightest = Math.max(read.brightest, luminance);
  }
  return { meanLuminance: read.sum / pixels, darkest: read.darkest, brightest: read.brightest, red: read.red };
}
