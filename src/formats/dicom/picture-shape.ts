import { refuseDamaged, refuseTooLarge, refuseUnusual } from '../refusal.js';
import type { DicomFile } from './read-dicom.js';

/** What the Image Pixel module says (PS3.3, C.7.6.3), proven to make sense before anything is decoded. */
export interface PictureShape {
  widthPx: number;
  heightPx: number;
  samples: 1 | 3;
  bitsAllocated: 8 | 16;
  bitsStored: number;
  highBit: number;
  signed: boolean;
  photometric: Photometric;
  /** Native colour with each colour in a plane of its own. */
  planar: boolean;
  frames: number;
}

export type Photometric = 'MONOCHROME1' | 'MONOCHROME2' | 'PALETTE COLOR' | Colour;
/** Colour as the object names it; the two of JPEG 2000 are undone by its decoders. */
export type Colour = 'RGB' | 'YBR_FULL' | 'YBR_FULL_422' | 'YBR_ICT' | 'YBR_RCT';

const GREY: readonly string[] = ['MONOCHROME1', 'MONOCHROME2', 'PALETTE COLOR'];
const COLOUR: readonly string[] = ['RGB', 'YBR_FULL', 'YBR_FULL_422', 'YBR_ICT', 'YBR_RCT'];

/** More frames than any volume has. */
const MOST_FRAMES = 65_535;

/** Refuses, for `outcomeOf`, what is absent, out of range, of contradiction, or of more than `limitPx` pixels a frame. */
export function readShape({ dataSet }: Pick<DicomFile, 'dataSet'>, limitPx: number): PictureShape {
  const number = (tag: string): number => {
    const value = dataSet.uint16(tag);
    return value ?? refuseDamaged('DICOM', 'the size or kind of its picture is not given');
  };
  const [heightPx, widthPx] = [number('x00280010'), number('x00280011')];
  if (widthPx === 0 || heightPx === 0) refuseDamaged('DICOM', 'its picture has no size');
  if (widthPx * heightPx > limitPx) refuseTooLarge(widthPx, heightPx, limitPx);
  const photometric = dataSet.string('x00280004') ?? '';
  const samples = number('x00280002');
  const kinds = samples === 1 ? GREY : samples === 3 ? COLOUR : [];
  if (!kinds.includes(photometric)) refuseUnusual('DICOM', 'a kind of colour that is not read here');
  const bitsAllocated = number('x00280100');
  if (bitsAllocated !== 8 && bitsAllocated !== 16)
    return refuseUnusual('DICOM', 'a kind of pixel that cannot be checked');
  const bitsStored = number('x00280101');
  const highBit = number('x00280102');
  if (bitsStored < 1 || bitsStored > bitsAllocated || highBit >= bitsAllocated || highBit + 1 < bitsStored)
    refuseDamaged('DICOM', 'the bits of its pixels contradict each other');
  const signed = number('x00280103') === 1;
  if (samples === 3 && (signed || bitsStored !== bitsAllocated))
    refuseUnusual('DICOM', 'a kind of pixel that cannot be checked');
  return {
    ...{ widthPx, heightPx, bitsAllocated, bitsStored, highBit, signed },
    samples: samples as 1 | 3,
    photometric: photometric as Photometric,
    planar: samples === 3 && number('x00280006') === 1,
    frames: framesOf(dataSet),
  };
}

/** Number of Frames (0028,0008), an integer string; 1 when absent (PS3.3, C.7.6.6). */
function framesOf(dataSet: DicomFile['dataSet']): number {
  const stated = dataSet.string('x00280008');
  if (stated === undefined || stated === '') return 1;
  const frames = /^\d{1,6}$/.test(stated) ? Number(stated) : 0;
  if (frames < 1 || frames > MOST_FRAMES)
    return refuseDamaged('DICOM', 'its number of frames makes no sense');
  return frames;
}
