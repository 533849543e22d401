import { codeItem } from './keep-anatomy.js';
import { type CopyElement, sequence, text } from './write-elements.js';

const METHOD_CODES = 0x00120064;
export const BURNED_IN = 0x00280301;

/** PS3.16, CID 7050; the words as there. */
const BASIC_PROFILE = {
  code: '113100',
  scheme: 'DCM',
  meaning: 'Basic Application Confidentiality Profile',
};
const CLEAN_PIXELS = { code: '113101', scheme: 'DCM', meaning: 'Clean Pixel Data Option' };

/** What was done, in words (0012,0063). Constant: it tells nothing of one picture. */
export const METHOD = ['PS3.15 Annex E Basic Profile', 'kept by allow-list', 'UIDs keyed', 'dates removed'];

/** The marks of a de-identified copy, PS3.15 E.1.1: all but (0028,0301), which is about pixels. */
export const marks = (): CopyElement[] => [
  text(0x00120062, 'CS', 'YES'),
  text(0x00120063, 'LO', ...METHOD),
  methodCodes(false),
  // Longitudinal Temporal Information Modified: no date or time is left
  text(0x00280303, 'CS', 'REMOVED'),
];

/**
 * Which profile and which options hold true. Only the basic profile until the pixels were searched and covered; options
 * that keep more than it (dates, devices, descriptors, graphics) are not made use of and so not named.
 */
export const methodCodes = (pixelsCleaned: boolean): CopyElement =>
  sequence(METHOD_CODES, codeItem(BASIC_PROFILE), ...(pixelsCleaned ? [codeItem(CLEAN_PIXELS)] : []));
