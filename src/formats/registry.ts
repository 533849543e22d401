import { dicom, dicomdir } from './dicom/index.js';
import type { Format, HeldFormat } from './format.js';
import { heic } from './heic/index.js';
import { jpeg } from './jpeg/index.js';
import { png } from './png/index.js';
import { tiff } from './tiff/index.js';
import { webp } from './webp/index.js';

/**
 * Formats that are taken in. DICOM stands first, since the preamble of an object may be the head of a TIFF (PS3.10,
 * 7.1). A new one is a file or folder here, a line, and a fixture set in the shared suite.
 */
export const FORMATS: readonly Format[] = [dicom, jpeg, png, tiff, webp, heic];

/** Formats that are told by their bytes and held. */
const HELD_FORMATS: readonly HeldFormat[] = [dicomdir];

export const formatFor = (bytes: Uint8Array): Format | HeldFormat | null =>
  HELD_FORMATS.find((format) => format.recognises(bytes)) ??
  FORMATS.find((format) => format.recognises(bytes)) ??
  null;
