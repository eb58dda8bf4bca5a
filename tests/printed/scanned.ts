import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BinaryBitmap, DataMatrixReader, HybridBinarizer, RGBLuminanceSource } from '@zxing/library';

/** What a hand scanner reads off the printed sheet: its picture, through a reader that is not the one it was made with. */
export function scanned(pdf: Uint8Array): string {
  const folder = mkdtempSync(join(tmpdir(), 'dimroom-slip-'));
  writeFileSync(join(folder, 'slip.pdf'), pdf);
  execFileSync('pdftoppm', ['-r', '400', '-gray', join(folder, 'slip.pdf'), join(folder, 'slip')]);
  const image = readFileSync(join(folder, 'slip-1.pgm'));
  rmSync(folder, { recursive: true });
  const header = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(image.subarray(0, 40).toString('latin1'));
  const [whole, width, height] = [header?.[0].length ?? 0, Number(header?.[1]), Number(header?.[2])];
  // The code stands in the lower right corner.
  const corner = Math.round(height * 0.42);
  const shades = new Uint8ClampedArray(corner * corner);
  for (let row = 0; row < corner; row += 1) {
    const from = whole + (height - corner + row) * width + (width - corner);
    shades.set(image.subarray(from, from + corner), row * corner);
  }
  const picture = new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(shades, corner, corner)));
  return new DataMatrixReader().decode(picture).getText();
}

/** Whether a sheet can be made a picture here; where not, why is printed. */
export const canScan = ((): boolean => {
  try {
    execFileSync('pdftoppm', ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    console.warn('slips are not scanned here: pdftoppm (poppler-utils) is missing');
    return false;
  }
})();
