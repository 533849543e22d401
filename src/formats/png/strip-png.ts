import { tally } from '../bytes.js';
import { canonicalProfile } from '../colour-profile/index.js';
import type { StrippedPart, StrippedParts } from '../format.js';
import { inflate } from '../inflate.js';
import { outcomeOf } from '../refusal.js';
import { isPlausible } from './plausible.js';
import { type PngChunk, pictureBytesUsed, readPng } from './read-png.js';
import { PNG_SIGNATURE, pngChunk, profileChunk } from './write-chunks.js';

/** More than any real profile, unpacked. */
export const MOST_PROFILE_BYTES = 16_000_000;

/** The allow-listed chunks in their order, the profile rebuilt, and no byte beyond the zlib stream. */
export function stripPng(bytes: Uint8Array): StrippedParts {
  const png = readPng(bytes);
  const parts: StrippedPart[] = [{ bytes: PNG_SIGNATURE, picture: false }];
  const removed: Record<string, number> = {};
  const notes: string[] = [];
  const seen = new Set<string>();
  let left = pictureBytesUsed(png);
  for (const part of png.chunks) {
    if (part.name === 'IDAT') {
      const used = part.data.subarray(0, left);
      left -= used.length;
      if (used.length > 0) parts.push({ bytes: chunk('IDAT', used, part), picture: true });
      if (used.length < part.data.length) tally(removed, 'after-the-picture-data');
    } else if (part.name === 'iCCP' && !seen.has('iCCP')) {
      const rebuilt = canonicalProfile(
        profileOf(part),
        png.colourType === 0 || png.colourType === 4 ? 'grey' : 'rgb',
      );
      notes.push(...rebuilt.notes);
      tally(removed, 'icc');
      if (rebuilt.profile) parts.push({ bytes: profileChunk(rebuilt.profile), picture: false });
    } else if (isPlausible(part, png) && !seen.has(part.name))
      parts.push({ bytes: part.whole, picture: false });
    else tally(removed, carrierOf(part.name));
    seen.add(part.name);
  }
  if (png.trailing.length > 0) tally(removed, 'after-the-end');
  return { parts, removed, notes };
}

/** The source's chunk where it is unchanged, so that nothing is copied or summed again. */
const chunk = (name: string, data: Uint8Array, source: PngChunk): Uint8Array =>
  source.data.length === data.length ? source.whole : pngChunk(name, data);

/** Name, zero, method 0, zlib stream (ISO/IEC 15948, 11.3.3.3). Empty when it cannot be unpacked. */
export function profileOf(part: PngChunk): Uint8Array {
  const nameEnd = part.data.indexOf(0);
  if (nameEnd < 0 || part.data[nameEnd + 1] !== 0) return new Uint8Array(0);
  const unpacked = outcomeOf('PNG', () =>
    inflate('PNG', part.data.subarray(nameEnd + 2), MOST_PROFILE_BYTES),
  );
  return unpacked.kind === 'kept' ? unpacked.value.produced : new Uint8Array(0);
}

const CARRIERS: Record<string, string> = {
  tEXt: 'text',
  zTXt: 'text',
  iTXt: 'text',
  eXIf: 'exif',
  tIME: 'time',
  acTL: 'animation',
  fcTL: 'animation',
  fdAT: 'animation',
};

/** Names of unknown chunks come from the file, so they are never repeated. */
export const carrierOf = (name: string): string => CARRIERS[name] ?? 'unknown-chunk';
