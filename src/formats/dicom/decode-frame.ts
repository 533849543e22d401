import { held, type Outcome } from '../../core/outcome.js';
import type { DecodeOptions, StoredPixels } from '../format.js';
import { outcomeOf, refuseDamaged, refuseUnusual } from '../refusal.js';
import { decodeCoded } from './codecs/index.js';
import type { Unpacked } from './codecs/run-codec.js';
import { type CodedHeader, checkCodedHeader } from './codestream.js';
import { frameBytes } from './frame-bytes.js';
import { type PictureShape, readShape } from './picture-shape.js';
import type { DicomFile } from './read-dicom.js';
import { unpackRunLength } from './run-length.js';
import { type RawSamples, storeSamples, turned } from './store-samples.js';
import { PIXEL_DATA } from './walk-elements.js';

/**
 * The samples of one frame: grey and palette numbers as stored, without the bits above them; colour always as red,
 * green and blue. Held: `several-frames` when there are several and none was named, `frame-absent`, `damaged`,
 * `unusual`, `too-many-pixels`.
 */
export async function decodeFrame(file: DicomFile, options: DecodeOptions): Promise<Outcome<StoredPixels>> {
  const opened = outcomeOf('DICOM', () => readShape(file, options.pixelLimit));
  if (opened.kind !== 'kept') return opened;
  const shape = opened.value;
  const wanted = options.frame ?? 1;
  if (options.frame === undefined && shape.frames > 1)
    return held({ code: 'several-frames', frames: shape.frames });
  if (!Number.isInteger(wanted) || wanted < 1 || wanted > shape.frames)
    return held({ code: 'frame-absent', frame: wanted, frames: shape.frames });
  const { coding } = file.syntax;
  const prepared = outcomeOf('DICOM', () => {
    const bytes = frameBytes(file, shape, wanted - 1);
    const header = coding === 'native' || coding === 'rle' ? null : checkCodedHeader(coding, bytes, shape);
    return { bytes, header };
  });
  if (prepared.kind !== 'kept') return prepared;
  const { bytes, header } = prepared.value;
  const unpacked = header ? await decodeCoded(coding as Coded, bytes, header, isDifference(shape)) : null;
  if (header && !unpacked) return held({ code: 'damaged', format: 'DICOM', what: BROKEN });
  return outcomeOf('DICOM', () => {
    const raw =
      unpacked && header
        ? codedSamples(unpacked, header, coding as Coded, shape)
        : plainSamples(bytes, shape, file);
    return storeSamples(raw, shape);
  });
}

type Coded = Parameters<typeof decodeCoded>[0];
const BROKEN = 'a part of the picture is missing or broken';

const isDifference = ({ photometric }: PictureShape): boolean => /^YBR_FULL/.test(photometric);

/** Which colours a codec undoes itself: JPEG its own, JPEG 2000 its two (PS3.5, 8.2.1 and 8.2.4). */
function codedSamples(
  unpacked: Unpacked,
  header: CodedHeader,
  coding: Coded,
  shape: PictureShape,
): RawSamples {
  if (/2000|htj2k/.test(coding) && header.signed !== shape.signed)
    refuseDamaged('DICOM', 'its picture has another sign than its header says');
  const undone =
    coding === 'jpeg-8' || coding === 'jpeg-12'
      ? ['RGB', 'YBR_FULL', 'YBR_FULL_422']
      : /2000|htj2k/.test(coding)
        ? ['RGB', 'YBR_ICT', 'YBR_RCT']
        : ['RGB'];
  return {
    bytes: unpacked.bytes,
    bytesPerSample: header.bits > 8 ? 2 : 1,
    planar: unpacked.planar,
    colour: undone.includes(shape.photometric) ? 'RGB' : colourOf(shape, ['YBR_FULL']),
    shift: 0,
  };
}

function plainSamples(bytes: Uint8Array, shape: PictureShape, { syntax, elements }: DicomFile): RawSamples {
  const bytesPerSample = shape.bitsAllocated === 8 ? 1 : 2;
  const shift = shape.highBit + 1 - shape.bitsStored;
  if (syntax.coding === 'rle') {
    const pixels = shape.widthPx * shape.heightPx;
    const unpacked = unpackRunLength(bytes, pixels, shape.samples, bytesPerSample);
    return {
      bytes: unpacked,
      bytesPerSample,
      planar: false,
      colour: colourOf(shape, ['RGB', 'YBR_FULL']),
      shift,
    };
  }
  const asWords = bytesPerSample === 2 || elements.some(({ tag, vr }) => tag === PIXEL_DATA && vr === 'OW');
  return {
    bytes: syntax.bigEndian && asWords ? turned(bytes) : bytes,
    bytesPerSample,
    planar: shape.planar,
    colour: colourOf(shape, ['RGB', 'YBR_FULL', 'YBR_FULL_422']),
    shift,
  };
}

/** Null for grey and palette numbers. */
function colourOf({ samples, photometric }: PictureShape, lawful: readonly string[]): RawSamples['colour'] {
  if (samples === 1) return null;
  if (!lawful.includes(photometric)) return refuseUnusual('DICOM', 'a kind of colour that is not read here');
  return photometric as RawSamples['colour'];
}
