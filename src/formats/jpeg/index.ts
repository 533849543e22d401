/**
 * JPEG (ITU-T T.81, JFIF): baseline, extended and progressive Huffman pictures with 1, 3 or 4 channels of 8 bits.
 * Refused: other processes, cut or contradictory files.
 * Not promised: bytes hidden between or behind the codes of a picture with several scans. Those that make a decoder
 * draw other pixels hold the picture; others stay in the stripped file, which is private, and in nothing drawn from it.
 */
import { startsWith } from '../bytes.js';
import type { Format } from '../format.js';
import { leftoversOf, outcomeOf } from '../refusal.js';
import { jpegLeftovers } from './jpeg-leftovers.js';
import { stripJpeg } from './strip-jpeg.js';
import { surveyJpeg } from './survey-jpeg.js';
import { trimJpeg } from './trim-jpeg.js';

export const jpeg: Format = {
  name: 'JPEG',
  recognises: (head) => startsWith(head, '\xff\xd8\xff'),
  survey: (bytes) => outcomeOf('JPEG', () => surveyJpeg(bytes)),
  strip: (bytes) => outcomeOf('JPEG', () => stripJpeg(bytes)),
  trim: (bytes) => outcomeOf('JPEG', () => trimJpeg(bytes)),
  leftovers: (bytes) => leftoversOf(() => jpegLeftovers(bytes)),
};
