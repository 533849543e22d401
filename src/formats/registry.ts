import type { Format, HeldFormat } from './format.js';
import { heic } from './heic/index.js';
import { dicom, dicomdir } from './held-formats.js';
import { jpeg } from './jpeg/index.js';
import { png } from './png/index.js';
import { tiff } from './tiff/index.js';
import { webp } from './webp/index.js';

/** Formats that are taken in. A new one is a file or folder here, a line, and a fixture set in the shared suite. */
export const FORMATS: readonly Format[] = [jpeg, png, tiff, webp, heic];

/** Formats that are told by their bytes and held. The narrower stands first. */
const HELD_FORMATS: readonly HeldFormat[] = [dicomdir, dicom];

export const formatFor = (bytes: Uint8Array): Format | HeldFormat | null =>
  FORMATS.find((format) => format.recognises(bytes)) ??
  HELD_FORMATS.find((format) => format.recognises(bytes)) ??
  null;
