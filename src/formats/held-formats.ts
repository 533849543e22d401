import { latin1At, startsWith, viewOf } from './bytes.js';
import type { HeldFormat } from './format.js';

/** Media Storage Directory Storage (DICOM PS3.4, table B.5-1): the index of a disc. */
const DIRECTORY_CLASS = '1.2.840.10008.1.3.10';

const isDicom = (head: Uint8Array): boolean => startsWith(head, 'DICM', 128);

/**
 * Media Storage SOP Class UID, (0002,0002), of the file meta group (DICOM PS3.10, 7.1): always explicit VR, little
 * endian; OB, UN and the like have a length of four bytes after two reserved ones. Null when absent.
 */
function mediaStorageClass(head: Uint8Array): string | null {
  const file = viewOf(head);
  for (let at = 132; at + 12 <= file.length && file.readUInt16LE(at) === 2; ) {
    const long = ['OB', 'OW', 'UN', 'SQ', 'UT'].includes(latin1At(file, at + 4, 2));
    const from = at + (long ? 12 : 8);
    const length = long ? file.readUInt32LE(at + 8) : file.readUInt16LE(at + 6);
    if (file.readUInt16LE(at + 2) === 2) return latin1At(file, from, length).replace(/[\0 ]+$/, '');
    at = from + length;
  }
  return null;
}

export const dicomdir: HeldFormat = {
  name: 'DICOMDIR',
  recognises: (head) => isDicom(head) && mediaStorageClass(head) === DIRECTORY_CLASS,
};
export const dicom: HeldFormat = { name: 'DICOM', recognises: isDicom };
