/**
 * HEIC and HEIF (ISO/IEC 23008-12) with HEVC coding: the main picture, whole or in tiles. It cannot be rebuilt byte by
 * byte as other formats are, so the stripped file is a PNG made from its decoded pixels; nothing else goes over: no
 * second picture, thumbnail, depth or transparency map, item or box.
 * Refused: AVIF and other codings, moving pictures alone, transparent parts, high dynamic range, sizes that contradict
 * each other, data that does not fill its place. Not promised: a bit that flipped inside the coded picture is not seen,
 * since HEVC has no checksum.
 */
import { kept } from '../../core/outcome.js';
import { type Format, LIMIT_PX } from '../format.js';
import { pngLeftovers } from '../png/png-leftovers.js';
import { leftoversOf, outcomeOf } from '../refusal.js';
import { decodeHeic } from './decode-heic.js';
import { isHeif } from './is-heif.js';
import { stripHeic } from './strip-heic.js';
import { surveyHeic } from './survey-heic.js';

export const heic: Format = {
  name: 'HEIC',
  strippedAs: 'PNG',
  recognises: isHeif,
  survey: (bytes) => outcomeOf('HEIC', () => surveyHeic(bytes, LIMIT_PX)),
  strip: (bytes, options) => stripHeic(bytes, options?.pixelLimit ?? LIMIT_PX),
  /** Of the PNG that strip writes. */
  leftovers: (bytes) => leftoversOf(() => pngLeftovers(bytes)),
  decode: async (bytes, { pixelLimit }) => {
    const decoded = await decodeHeic(bytes, pixelLimit);
    return decoded.kind === 'kept' ? kept(decoded.value.pixels) : decoded;
  },
};
