import { latin1Bytes, tally } from '../bytes.js';
import { canonicalProfile } from '../colour-profile/index.js';
import type { StrippedPart, StrippedParts } from '../format.js';
import { ALPHA, PROFILE, readWebp } from './read-webp.js';

/** RIFF with the picture, and a VP8X header of ours only where alpha or a rebuilt profile needs one. */
export function stripWebp(bytes: Uint8Array): StrippedParts {
  const webp = readWebp(bytes);
  const { profile, notes } = canonicalProfile(webp.profile, 'rgb');
  const body: StrippedPart[] = [];
  if (profile || webp.alpha) {
    const header = Buffer.alloc(10);
    const lossless = webp.picture.name === 'VP8L' && (webp.picture.data[4]! & 0x10) !== 0;
    header[0] = (profile ? PROFILE : 0) | (webp.alpha || lossless ? ALPHA : 0);
    header.writeUIntLE(webp.widthPx - 1, 4, 3);
    header.writeUIntLE(webp.heightPx - 1, 7, 3);
    body.push(...chunk('VP8X', header, false));
  }
  if (profile) body.push(...chunk('ICCP', profile, false));
  if (webp.alpha) body.push(...chunk('ALPH', webp.alpha, true));
  body.push(...chunk(webp.picture.name, webp.picture.data, true));
  const size = body.reduce((sum, part) => sum + part.bytes.length, 4);
  const head = Buffer.from('RIFF\0\0\0\0WEBP', 'latin1');
  head.writeUInt32LE(size, 4);
  const removed: Record<string, number> = {};
  if (webp.profile) tally(removed, 'icc');
  for (const { name } of webp.metadata) tally(removed, carrierOf(name));
  tally(removed, 'picture', webp.pictures - 1);
  if (webp.trailing.length > 0) tally(removed, 'after-the-end');
  return { parts: [{ bytes: head, picture: false }, ...body], removed, notes };
}

/** Chunks are padded to even length with a zero. */
function chunk(name: string, data: Uint8Array, picture: boolean): StrippedPart[] {
  const head = Buffer.concat([latin1Bytes(name), Buffer.alloc(4)]);
  head.writeUInt32LE(data.length, 4);
  const padding = { bytes: new Uint8Array(data.length % 2), picture: false };
  return [{ bytes: head, picture: false }, { bytes: data, picture }, padding];
}

export const carrierOf = (name: string): string =>
  ({ EXIF: 'exif', 'XMP ': 'xmp', ANIM: 'animation' })[name] ?? 'unknown-chunk';
