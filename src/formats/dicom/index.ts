/**
 * DICOM image objects (PS3.10 files, with or without preamble): one frame of every transfer syntax that is in use for
 * pictures. The stripped file is a copy written anew by an allow-list (`copy/`), with native pixels.
 * Refused: a DICOMDIR, objects without transfer syntax, picture or end, lengths and headers that contradict each other,
 * several frames of which none was named, more bits than 16, colour of more than 8 bits stored as differences. Overlays
 * are never read. Not promised: a bit that flipped inside coded data of JPEG 2000 is not seen, since it has no checksum.
 */
import { failed, type Outcome } from '../../core/outcome.js';
import {
  type Format,
  type HeldFormat,
  LIMIT_PX,
  type StoredPixels,
  type StripOptions,
  type StrippedParts,
} from '../format.js';
import { outcomeOf } from '../refusal.js';
import { writeCopy } from './copy/index.js';
import { decodeFrame } from './decode-frame.js';
import { hasPreamble, isDirectory, startsBare } from './find-data-set.js';
import { dicomLeftovers } from './leftovers/index.js';
import { readShape } from './picture-shape.js';
import { type DicomFile, readDicom } from './read-dicom.js';
import { removedFrom } from './removed.js';
import { whatIsSearched } from './what-is-searched.js';

export { readShape } from './picture-shape.js';
export { type DicomFile, readDicom } from './read-dicom.js';
export { everyElement } from './removed.js';
export type { WalkedElement } from './walk-elements.js';

/** The index of a disc, which names patients and holds no picture. */
export const dicomdir: HeldFormat = {
  name: 'DICOMDIR',
  recognises: (head) => hasPreamble(head) && isDirectory(head),
};

export const dicom: Format = {
  name: 'DICOM',
  recognises: (head) => (hasPreamble(head) && !isDirectory(head)) || startsBare(head),
  survey: (bytes) =>
    whenRead(bytes, (file) =>
      outcomeOf('DICOM', () => {
        const { widthPx, heightPx, samples, signed, bitsStored, photometric } = readShape(file, LIMIT_PX);
        const grey = samples === 1 && photometric !== 'PALETTE COLOR';
        const bitsPerChannel = signed || bitsStored > 8 ? 16 : 8;
        return { widthPx, heightPx, bitsPerChannel, grey, blocks: [], notes: [] };
      }),
    ),
  strip,
  leftovers: dicomLeftovers,
  decode: async (bytes, options) => {
    const read = readDicom(bytes);
    return read.kind === 'kept' ? decodeFrame(read.value, options) : read;
  },
};

function whenRead<T>(bytes: Uint8Array, then: (file: DicomFile) => Outcome<T>): Outcome<T> {
  const read = readDicom(bytes);
  return read.kind === 'kept' ? then(read.value) : read;
}

async function strip(bytes: Uint8Array, options: StripOptions = {}): Promise<Outcome<StrippedParts>> {
  const { uidKey, frame, pixelLimit = LIMIT_PX } = options;
  // without a key anyone could try source UIDs against the new ones
  if (!uidKey) return failed({ code: 'bug', what: 'no key for the names of DICOM objects' });
  const read = readDicom(bytes);
  if (read.kind !== 'kept') return read;
  const decoded = await decodeFrame(read.value, { pixelLimit, ...(frame === undefined ? {} : { frame }) });
  if (decoded.kind !== 'kept') return decoded;
  return outcomeOf('DICOM', () => partsOf(read.value, decoded.value, { uidKey, frame: frame ?? 1 }));
}

/** The samples stand at the end of a copy; what is before them is searched more closely. */
function partsOf(
  file: DicomFile,
  pixels: StoredPixels,
  options: { uidKey: Uint8Array; frame: number },
): StrippedParts {
  const copy = writeCopy(file, pixels, options);
  const from = copy.length - pixels.data.byteLength - (pixels.data.byteLength % 2);
  const parts = [
    { bytes: copy.subarray(0, from), picture: false },
    { bytes: copy.subarray(from), picture: true },
  ];
  return { parts, removed: removedFrom(file), notes: [], searched: whatIsSearched(copy) };
}
