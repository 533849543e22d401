import type { Outcome } from '../../../core/outcome.js';
import { outcomeOf, refuseUnusual } from '../../refusal.js';
import { type DicomFile, readDicom } from '../read-dicom.js';
import type { WalkedElement } from '../walk-elements.js';
import { isOwnFile, wrapAsFile } from './copy-file.js';
import { flatSample } from './flat-sample.js';
import { BURNED_IN, methodCodes } from './marks.js';
import { type Source, sourceOf, textsOf, wordsOf } from './source-values.js';
import { type CopyElement, text } from './write-elements.js';

const PIXEL_DATA = 0x7fe00010;
const IMAGE_TYPE = 0x00080008;

/** [x, y, width, height] in pixels of the display picture, which has those of the copy; clipped to it. As `FoundBox` of the finders. */
export type CopyBox = readonly [x: number, y: number, width: number, height: number];

/**
 * A copy with covers painted into its stored pixels: solid, in the value that renders as the flat grey of the display
 * picture. `searched`: the pixels were searched for text and everything found is among the boxes; only then it
 * says so: Burned In Annotation NO, and Clean Pixel Data Option among the method codes. Held: a file that `writeCopy`
 * did not make. The copy handed in is not changed.
 * @param flipped the display picture, whose pixels the boxes count in, is the copy flipped left to right
 */
export function paintCopy(
  copy: Uint8Array,
  boxes: readonly CopyBox[],
  searched: boolean,
  flipped = false,
): Outcome<Uint8Array> {
  const read = readDicom(copy);
  if (read.kind !== 'kept') return read;
  return outcomeOf('DICOM', () =>
    painted(read.value, flipped ? mirrored(read.value, boxes) : boxes, searched),
  );
}

/** Boxes of a picture that was flipped left to right for display, in pixels of the copy, which never is. */
function mirrored(file: DicomFile, boxes: readonly CopyBox[]): CopyBox[] {
  const [widthPx = 0] = wordsOf(sourceOf(file, 1), 0x00280011, 'US');
  return boxes.map(([x, y, width, height]) => [widthPx - x - width, y, width, height]);
}

function painted(file: DicomFile, boxes: readonly CopyBox[], searched: boolean): Uint8Array {
  const native = file.syntax.coding === 'native' && file.syntax.explicit && !file.syntax.bigEndian;
  if (!isOwnFile(file) || !native) refuseUnusual('DICOM', 'a copy that was made elsewhere');
  const source = sourceOf(file, 1);
  const changed = new Map<number, CopyElement>();
  const change = (element: CopyElement): void => void changed.set(element.tag, element);
  if (boxes.length > 0) {
    change(paintedPixels(file, source, boxes));
    // a picture whose samples differ from what the device gave is derived (PS3.3, C.7.6.1.1.2)
    const [, ...rest] = textsOf(source, IMAGE_TYPE, 'CS');
    if (rest.length > 0) change(text(IMAGE_TYPE, 'CS', 'DERIVED', ...rest));
  }
  if (searched) {
    change(text(BURNED_IN, 'CS', 'NO'));
    change(methodCodes(true));
  }
  const kept = file.elements
    .filter(({ tag }) => !changed.has(tag))
    .map((element) => asWritten(file, element));
  const uid = (tag: number): string => textsOf(source, tag, 'UI')[0] ?? '';
  return wrapAsFile([...kept, ...changed.values()], uid(0x00080016), uid(0x00080018));
}

/** The same element again; the file is our own, so every one has a VR. */
function asWritten(file: DicomFile, { tag, vr, at, length, items }: WalkedElement): CopyElement {
  if (items) {
    return {
      ...{ tag, vr: 'SQ' as const },
      items: items.map((item) => item.map((element) => asWritten(file, element))),
    };
  }
  return { tag, vr: vr ?? 'UN', value: file.bytes.subarray(at, at + length) };
}

function paintedPixels(file: DicomFile, source: Source, boxes: readonly CopyBox[]): CopyElement {
  const pixels = file.elements.find(({ tag }) => tag === PIXEL_DATA)!;
  const number = (tag: number): number => wordsOf(source, tag, 'US')[0] ?? 0;
  const [heightPx, widthPx, channels] = [number(0x00280010), number(0x00280011), number(0x00280002)];
  const sampleBytes = number(0x00280100) / 8;
  const value = Buffer.from(file.bytes.subarray(pixels.at, pixels.at + pixels.length));
  const needed = widthPx * heightPx * channels * sampleBytes;
  if (needed === 0 || value.length < needed) refuseUnusual('DICOM', 'a copy that was made elsewhere');
  const sample = flatSample(source, value.subarray(0, needed));
  const pixel = Buffer.alloc(channels * sampleBytes);
  for (let at = 0; at < channels; at++) {
    if (sampleBytes === 1) pixel[at] = sample & 0xff;
    else pixel.writeUInt16LE(sample & 0xffff, 2 * at);
  }
  for (const box of boxes) fillBox(value, { widthPx, heightPx }, box, pixel);
  return { tag: PIXEL_DATA, vr: pixels.vr ?? 'OW', value };
}

function fillBox(
  into: Buffer,
  { widthPx, heightPx }: { widthPx: number; heightPx: number },
  [x, y, width, height]: CopyBox,
  pixel: Buffer,
): void {
  // outward, so that a pixel touched in part is covered
  const [left, right] = [Math.max(0, Math.floor(x)), Math.min(widthPx, Math.ceil(x + width))];
  const [top, bottom] = [Math.max(0, Math.floor(y)), Math.min(heightPx, Math.ceil(y + height))];
  if (right <= left) return;
  for (let row = top; row < bottom; row++) {
    const start = (row * widthPx + left) * pixel.length;
    into.fill(pixel, start, start + (right - left) * pixel.length);
  }
}
