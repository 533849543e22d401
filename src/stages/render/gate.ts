import type { FormatName } from '../../core/format-name.js';
import { held, kept, type Outcome } from '../../core/outcome.js';
import { FORMATS } from '../../formats/index.js';
import { decodeExact } from './decode-exact.js';
import type { Pixels } from './pixels.js';

/**
 * The pixels of the stripped bytes, proven equal to those of the original: size, channels, depth and every byte.
 * Held: `damaged` or `too-many-pixels` when the original does not decode, `pixels-changed` on any difference.
 */
export async function gate(job: {
  original: Uint8Array;
  stripped: Uint8Array;
  format: FormatName;
  pixelLimit: number;
}): Promise<Outcome<{ pixels: Pixels; notes: string[] }>> {
  const before = await decodeExact(job.original, job.format, job.pixelLimit);
  if (before.kind !== 'kept') return before;
  const strippedAs = FORMATS.find(({ name }) => name === job.format)?.strippedAs ?? job.format;
  const after = await decodeExact(job.stripped, strippedAs, job.pixelLimit);
  if (after.kind !== 'kept' || !samePixels(before.value.pixels, after.value.pixels)) {
    return held({ code: 'pixels-changed' });
  }
  const notes = before.value.warned ? ['the file has small faults, but the whole picture could be read'] : [];
  return kept({ pixels: after.value.pixels, notes });
}

const samePixels = (a: Pixels, b: Pixels): boolean =>
  a.widthPx === b.widthPx &&
  a.heightPx === b.heightPx &&
  a.channels === b.channels &&
  a.bitsPerChannel === b.bitsPerChannel &&
  a.colour === b.colour &&
  a.data.equals(b.data);
