/**
 * Classic TIFF 6.0, page 1: grey, RGB, palette and CMYK of 1 to 16 bits, uncompressed, LZW, deflate or PackBits.
 * Refused: BigTIFF, floating point, fax and JPEG inside, directories in a loop, offsets outside the file.
 */
import type { Format } from '../format.js';
import { leftoversOf, outcomeOf } from '../refusal.js';
import { isTiff } from './directory.js';
import { stripTiff } from './strip-tiff.js';
import { surveyTiff } from './survey-tiff.js';
import { tiffLeftovers } from './tiff-leftovers.js';

export const tiff: Format = {
  name: 'TIFF',
  recognises: isTiff,
  survey: (bytes) => outcomeOf('TIFF', () => surveyTiff(bytes)),
  strip: (bytes) => outcomeOf('TIFF', () => stripTiff(bytes)),
  leftovers: (bytes) => leftoversOf(() => tiffLeftovers(bytes)),
};
