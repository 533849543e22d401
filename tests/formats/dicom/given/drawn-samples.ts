import type { StoredPixels } from '../../../../src/formats/format.js';

const [WIDTH_PX, HEIGHT_PX] = [90, 64];

/** Something like a film of 12 bits: a bright crown on a dark ground with a soft edge, and grain from a fixed seed. */
export function drawnFilm(): StoredPixels {
  let seed = 12345;
  const grain = (): number => {
    seed = (Math.imul(seed, 1103515245) + 12345) & 0x7fffffff;
    return (seed >> 16) % 64;
  };
  const data = Uint16Array.from({ length: WIDTH_PX * HEIGHT_PX }, (_, at) => {
    const [x, y] = [at % WIDTH_PX, Math.floor(at / WIDTH_PX)];
    const inside = Math.hypot(x - 40, y - 30) < 22 ? 2600 : 500;
    return Math.min(4095, inside + x * 8 + grain());
  });
  return { data, widthPx: WIDTH_PX, heightPx: HEIGHT_PX, channels: 1, bitsPerChannel: 16 };
}

/** A coloured still of 8 bits. */
export function drawnStill(): StoredPixels {
  const data = Uint8Array.from({ length: WIDTH_PX * HEIGHT_PX * 3 }, (_, at) => {
    const pixel = Math.floor(at / 3);
    const [x, y] = [pixel % WIDTH_PX, Math.floor(pixel / WIDTH_PX)];
    const inside = Math.hypot(x - 40, y - 30) < 22;
    return [inside ? 190 : 90 + x, inside ? 120 + y : 40, inside ? 60 : 130 - y][at % 3]!;
  });
  return { data, widthPx: WIDTH_PX, heightPx: HEIGHT_PX, channels: 3, bitsPerChannel: 8 };
}
