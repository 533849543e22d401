import { EXTENSION } from '../core/format-name.js';
import type { PictureFacts } from '../core/picture-facts.js';

/** Extension of a stripped file: HEIC becomes PNG, and each further frame of one DICOM object is a file of its own. */
export function strippedExtension({ format }: PictureFacts, frame: number): string {
  if (format === 'HEIC') return EXTENSION.PNG;
  return format === 'DICOM' && frame > 1 ? `${EXTENSION.DICOM}${frame}` : EXTENSION[format];
}
