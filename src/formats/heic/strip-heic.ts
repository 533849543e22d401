import { kept, type Outcome } from '../../core/outcome.js';
import { tally } from '../bytes.js';
import type { StoredPixels, StrippedPart, StrippedParts } from '../format.js';
import { readPng } from '../png/read-png.js';
import { PNG_SIGNATURE, pngChunk, profileChunk } from '../png/write-chunks.js';
import { outcomeOf } from '../refusal.js';
import { decodeHeic } from './decode-heic.js';
import { checkTransfer, profileFor } from './nclx-profile.js';
import { countPictures } from './pictures.js';
import { readHeif } from './read-heif.js';

/** The main picture as an 8-bit RGB PNG: only its decoded pixels and a rebuilt profile go over. */
export async function stripHeic(bytes: Uint8Array, pixelLimit: number): Promise<Outcome<StrippedParts>> {
  const decoded = await decodeHeic(bytes, pixelLimit);
  if (decoded.kind !== 'kept') return decoded;
  const { pixels, picture } = decoded.value;
  const colours = outcomeOf('HEIC', () => {
    checkTransfer(picture);
    return profileFor(picture);
  });
  if (colours.kind !== 'kept') return colours;
  const { profile, notes } = colours.value;
  return kept({ parts: partsOf(await encode(pixels), profile), removed: countRemoved(bytes), notes });
}

/** The filters PNG has for photographs, and a level of deflate that costs half the time of the next for a few percent. */
async function encode({ data, widthPx: width, heightPx: height }: StoredPixels): Promise<Buffer> {
  const { default: sharp } = await import('sharp');
  return sharp(data as Uint8Array, { raw: { width, height, channels: 3 }, limitInputPixels: false })
    .png({ compressionLevel: 3, adaptiveFiltering: true })
    .toBuffer();
}

/** Header, profile and picture data; what else the encoder writes is left out. */
function partsOf(png: Buffer, profile: Uint8Array | null): StrippedPart[] {
  const { chunks } = readPng(png);
  const header = chunks[0]!.whole;
  return [
    { bytes: Buffer.concat([PNG_SIGNATURE, header]), picture: false },
    ...(profile ? [{ bytes: profileChunk(profile), picture: false }] : []),
    ...chunks.filter(({ name }) => name === 'IDAT').map(({ whole }) => ({ bytes: whole, picture: true })),
    { bytes: pngChunk('IEND', new Uint8Array(0)), picture: false },
  ];
}

function countRemoved(bytes: Uint8Array): Record<string, number> {
  const heif = readHeif(bytes);
  const removed: Record<string, number> = {};
  for (const { type } of heif.items.values()) {
    if (type === 'Exif') tally(removed, 'exif');
    if (type === 'mime' || type === 'uri ') tally(removed, 'metadata-item');
  }
  const { pictures, thumbnails, auxiliary } = countPictures(heif);
  tally(removed, 'picture', pictures - 1);
  tally(removed, 'thumbnail', thumbnails);
  tally(removed, 'auxiliary-picture', auxiliary);
  tally(removed, 'box', heif.others.length);
  if (heif.trailing.length > 0) tally(removed, 'after-the-end');
  return removed;
}
