import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { crc32, deflateSync } from 'node:zlib';
import { ROOT } from './node-runtime.mjs';

/** Two arcs that begin at one instant, as the two timers do: the infusion's within, the light's around it. */
const ARCS = [
  { radius: 0.36, width: 0.085, turns: 0.75, colour: [0xc9, 0xa2, 0x4a] },
  { radius: 0.215, width: 0.065, turns: 0.5, colour: [0xd9, 0xc7, 0xa3] },
];
const GROUND = [0x0a, 0x08, 0x06];
/** Of the side: how round the corners are, and how far the ground stays from the edge. */
const CORNER = 0.2;
const MARGIN = 0.04;

/** The app's icon at a size, as a PNG. */
export function iconPng(sizePx) {
  const rows = Buffer.alloc(sizePx * (1 + sizePx * 4));
  for (let y = 0; y < sizePx; y += 1) {
    for (let x = 0; x < sizePx; x += 1) {
      const colour = colourAt((x + 0.5) / sizePx - 0.5, (y + 0.5) / sizePx - 0.5, 1 / sizePx);
      rows.set(colour, y * (1 + sizePx * 4) + 1 + x * 4);
    }
  }
  return png(sizePx, rows);
}

/** Red, green, blue and cover of a point, from the middle in parts of the side. */
function colourAt(x, y, pixel) {
  const half = 0.5 - MARGIN - CORNER;
  const outside = Math.hypot(Math.max(Math.abs(x) - half, 0), Math.max(Math.abs(y) - half, 0)) - CORNER;
  let colour = GROUND;
  for (const arc of ARCS) colour = mixed(colour, arc.colour, cover(fromArc(arc, x, y), pixel));
  return [...colour.map(Math.round), Math.round(255 * cover(outside, pixel))];
}

/** How far a point is outside an arc with round ends, which begins at the top and goes with the clock. */
function fromArc({ radius, width, turns }, x, y) {
  const turn = (Math.atan2(x, -y) / (2 * Math.PI) + 1) % 1;
  const nearest = [0, turns].map((end) => 2 * Math.PI * end);
  const onArc = Math.abs(Math.hypot(x, y) - radius);
  const toEnds = nearest.map((end) => Math.hypot(x - radius * Math.sin(end), y + radius * Math.cos(end)));
  return (turn <= turns ? onArc : Math.min(...toEnds)) - width / 2;
}

const cover = (distance, pixel) => Math.min(1, Math.max(0, 0.5 - distance / pixel));
const mixed = (below, above, share) => below.map((part, index) => part + (above[index] - part) * share);

function png(sizePx, rows) {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(sizePx, 0);
  head.writeUInt32BE(sizePx, 4);
  // 8 bits a channel, colour with cover.
  head.set([8, 6], 8);
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const body = deflateSync(rows, { level: 9 });
  return Buffer.concat([signature, chunk('IHDR', head), chunk('IDAT', body), chunk('IEND', Buffer.alloc(0))]);
}

function chunk(name, data) {
  const named = Buffer.concat([Buffer.from(name), data]);
  const framed = Buffer.alloc(named.length + 8);
  framed.writeUInt32BE(data.length, 0);
  named.copy(framed, 4);
  framed.writeUInt32BE(crc32(named), named.length + 4);
  return framed;
}

/** Windows' form: a list of pictures, each of which may be a PNG. */
function ico(sizes) {
  const pictures = sizes.map((sizePx) => ({ sizePx, data: iconPng(sizePx) }));
  const head = Buffer.alloc(6 + 16 * pictures.length);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(pictures.length, 4);
  let offset = head.length;
  pictures.forEach(({ sizePx, data }, index) => {
    const at = 6 + 16 * index;
    // 256 is written as 0.
    head.set([sizePx % 256, sizePx % 256, 0, 0, 1, 0, 32, 0], at);
    head.writeUInt32LE(data.length, at + 8);
    head.writeUInt32LE(offset, at + 12);
    offset += data.length;
  });
  return Buffer.concat([head, ...pictures.map(({ data }) => data)]);
}

/** macOS' form: the same, each named by its size. */
function icns(named) {
  const parts = Object.entries(named).map(([name, sizePx]) => {
    const data = iconPng(sizePx);
    const head = Buffer.alloc(8);
    head.write(name);
    head.writeUInt32BE(data.length + 8, 4);
    return Buffer.concat([head, data]);
  });
  const head = Buffer.alloc(8);
  head.write('icns');
  head.writeUInt32BE(8 + parts.reduce((sum, { length }) => sum + length, 0), 4);
  return Buffer.concat([head, ...parts]);
}

/** Every file of the icon, by its name. */
export const iconFiles = () => ({
  'icon.png': iconPng(512),
  'icon.ico': ico([16, 24, 32, 48, 256]),
  'icon.icns': icns({ ic07: 128, ic08: 256, ic09: 512, ic10: 1024 }),
});

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const folder = join(ROOT, 'assets/icon');
  mkdirSync(folder, { recursive: true });
  for (const [name, bytes] of Object.entries(iconFiles())) writeFileSync(join(folder, name), bytes);
}
