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
  /** Which frame of a DICOM object the stripped bytes are of. */
  frame?: number | undefined;
}): Promise<Outcome<{ pixels: Pixels; notes: string[] }>> {
  const before = await decodeExact(job.original, job.format, job.pixelLimit, job.frame);
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
  a.bitsPerChannel === b.bitsPerChannel &&
  (a.signed ?? false) === (b.signed ?? false) &&
  a.colour === b.colour &&
  (a.channels === b.channels ? a.data.equals(b.data) : sameBehindOpaqueAlpha(a, b));

/**
 * A moving WebP has an alpha channel when any of its pictures has, so the first one alone may lose a channel that is
 * opaque in every pixel, which says nothing.
 */
function sameBehindOpaqueAlpha(before: Pixels, after: Pixels): boolean {
  if (before.channels !== 4 || !before.hasAlpha || after.channels !== 3 || before.bitsPerChannel !== 8)
    return false;
  const [four, three] = [before.data, after.data];
  for (let from = 0, at = 0; from < four.length; from += 4, at += 3) {
    if (four[from + 3] !== 255) return false;
    if (four[from] !== three[at] || four[from + 1] !== three[at + 1] || four[from + 2] !== three[at + 2])
      return false;
  }
  return true;
}
