import sharp, { type Sharp } from 'sharp';

export const [WIDTH_PX, HEIGHT_PX] = [48, 40];

/** A small soft pattern, unlike that of any other seed. */
export function drawn(seed: number): Sharp {
  const pixels = Buffer.alloc(WIDTH_PX * HEIGHT_PX * 3);
  for (let at = 0; at < pixels.length; at++) {
    const x = Math.floor(at / 3) % WIDTH_PX;
    const y = Math.floor(at / 3 / WIDTH_PX);
    pixels[at] = 128 + 90 * Math.sin((x + seed) / (4 + (at % 3)) + (y * (1 + (seed % 7))) / 17);
  }
  return sharp(pixels, { raw: { width: WIDTH_PX, height: HEIGHT_PX, channels: 3 } });
}

export const thumbnailJpeg = (): Promise<Buffer> => drawn(0).resize(16, 12).jpeg().toBuffer();

/** A Display P3 profile, which is kept by its numbers. */
export async function profileP3(): Promise<Buffer> {
  const tagged = await drawn(0).withIccProfile('p3').png().toBuffer();
  return (await sharp(tagged).metadata()).icc as Buffer;
}
