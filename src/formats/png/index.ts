/**
 * PNG (ISO/IEC 15948). Refused: unknown critical chunks, wrong checksums of picture chunks, a missing end, picture
 * data that unpacks to more or less than the picture. Of a moving PNG the still picture stays, which is the first one.
 */
import type { Format } from '../format.js';
import { leftoversOf, outcomeOf } from '../refusal.js';
import { pngLeftovers } from './png-leftovers.js';
import { isSignature } from './read-png.js';
import { stripPng } from './strip-png.js';
import { surveyPng } from './survey-png.js';

export const png: Format = {
  name: 'PNG',
  recognises: isSignature,
  survey: (bytes) => outcomeOf('PNG', () => surveyPng(bytes)),
  strip: (bytes) => outcomeOf('PNG', () => stripPng(bytes)),
  leftovers: (bytes) => leftoversOf(() => pngLeftovers(bytes)),
};
