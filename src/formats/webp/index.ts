/**
 * WebP (RFC 9649): a still picture, lossy or lossless, or the first one of a moving picture. Refused: a first one that
 * does not fill the canvas, sizes that do not fit. Not promised: bytes inside the coded picture behind its last used
 * bit; decoders do not report those. Sizes do not tell them: the last partition of a lossy picture runs to the end of
 * its chunk (RFC 6386, 9.5), and a lossless picture has no length at all, so only decoding to the last code would.
 */
import { viewOf } from '../bytes.js';
import { isCanonicalProfile } from '../colour-profile/index.js';
import type { Format, MetadataBlock, Survey } from '../format.js';
import { leftoversOf, outcomeOf } from '../refusal.js';
import { severalNotes } from '../several-pictures.js';
import { isWebp, readWebp } from './read-webp.js';
import { carrierOf, stripWebp } from './strip-webp.js';

export const webp: Format = {
  name: 'WebP',
  recognises: isWebp,
  survey: (bytes) => outcomeOf('WebP', () => survey(bytes)),
  strip: (bytes) => outcomeOf('WebP', () => stripWebp(bytes)),
  leftovers: (bytes) => leftoversOf(() => leftovers(bytes)),
};

function survey(bytes: Uint8Array): Survey {
  const { widthPx, heightPx, metadata, profile, pictures, trailing } = readWebp(bytes);
  const blocks: MetadataBlock[] = metadata.map(({ name, data }) => {
    const carrier = carrierOf(name);
    if (carrier === 'xmp') return { kind: 'xmp', carrier, field: 'XMP', bytes: data };
    return {
      kind: carrier === 'exif' ? 'exif' : 'other',
      carrier,
      field: carrier,
      bytes: withoutJpegHead(data),
    };
  });
  if (profile) blocks.push({ kind: 'icc', carrier: 'icc', field: 'ICC', bytes: profile });
  if (trailing.length > 0)
    blocks.push({ kind: 'other', carrier: 'after-the-end', field: 'after-the-end', bytes: trailing });
  return { widthPx, heightPx, bitsPerChannel: 8, grey: false, blocks, notes: severalNotes(pictures) };
}

/** Some writers put JPEG's "Exif\0\0" before the TIFF header. */
const withoutJpegHead = (data: Uint8Array): Uint8Array =>
  viewOf(data).toString('latin1', 0, 6) === 'Exif\0\0' ? data.subarray(6) : data;

/** A straight second walk over the chunks. */
function leftovers(bytes: Uint8Array): string[] {
  const file = viewOf(bytes);
  const found = new Set<string>();
  let at = 12;
  while (at + 8 <= file.length) {
    const name = file.toString('latin1', at, at + 4);
    const data = file.subarray(at + 8, at + 8 + file.readUInt32LE(at + 4));
    if (!['VP8X', 'ICCP', 'ALPH', 'VP8 ', 'VP8L'].includes(name)) found.add('unknown-chunk');
    if (name === 'VP8X' && (data[0]! & ~0x30) !== 0) found.add('flags');
    if (name === 'ICCP' && !isCanonicalProfile(data)) found.add('icc');
    at += 8 + data.length;
    if (data.length % 2 === 1 && file[at++] !== 0) found.add('padding');
  }
  if (at !== file.length || file.readUInt32LE(4) !== file.length - 8) found.add('bytes-outside-chunks');
  return [...found];
}
