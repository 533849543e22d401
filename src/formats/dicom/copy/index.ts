/**
 * The de-identified copy of a DICOM object: PS3.15 Annex E, Basic Application Level Confidentiality Profile, reached
 * by an allow-list. In: an object that was read, the decoded pixels of one frame, and the key of the UID map. Out: a
 * file of explicit VR little endian with native pixels, in which every value was checked and written anew. What the
 * list does not name is left behind at every depth: private attributes, overlays, icons, curves, earlier values,
 * comments, dates, devices, people, references. Refused: palettes and tables of grey that are broken, and covers on
 * a file that this writer has not made. Not promised: that the pixels show no text (`paintCopy` says when they were
 * searched), and that teeth do not identify.
 */
export { knownCode, TOOTH_CODES } from './anatomy-codes.js';
export { paintCopy } from './paint-copy.js';
export { type CopyOptions, writeCopy } from './write-copy.js';
