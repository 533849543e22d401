import type { Outcome } from '../../../../src/core/outcome.js';
import { writeCopy } from '../../../../src/formats/dicom/copy/index.js';
import { type DicomFile, readDicom } from '../../../../src/formats/dicom/read-dicom.js';
import type { StoredPixels } from '../../../../src/formats/format.js';

export const KEY = Buffer.from('a key of thirty-two bytes, tests');

export function keptOf<T>(outcome: Outcome<T>): T {
  if (outcome.kind !== 'kept') throw new Error(`not kept: ${JSON.stringify(outcome.reason)}`);
  return outcome.value;
}

export const opened = (file: Uint8Array): DicomFile => keptOf(readDicom(file));

export const copyOf = (file: Uint8Array, pixels: StoredPixels, frame = 1, uidKey: Uint8Array = KEY): Buffer =>
  Buffer.from(writeCopy(opened(file), pixels, { uidKey, frame }));

/** The text of an element at the top of a file, without padding; null when it is not there. */
export function textIn(file: Uint8Array, tag: number): string | null {
  const { elements, bytes } = opened(file);
  const element = elements.find((one) => one.tag === tag);
  if (!element) return null;
  return Buffer.from(bytes.subarray(element.at, element.at + element.length))
    .toString('latin1')
    .replace(/[\0 ]+$/, '');
}

/** Every tag of a file, at every depth, as "00082218 > 00080100". */
export function tagsIn(file: Uint8Array): string[] {
  const walk = (elements: DicomFile['elements'], above: string): string[] =>
    elements.flatMap(({ tag, items }) => {
      const name = `${above}${tag.toString(16).padStart(8, '0')}`;
      return [name, ...(items ?? []).flatMap((item) => walk(item, `${name} > `))];
    });
  return walk(opened(file).elements, '');
}

/** True when the bytes hold a text in Latin-1 or UTF-8, or in UTF-16 of either order. */
export function holds(bytes: Buffer, text: string): boolean {
  const wide = Buffer.from(text, 'utf16le');
  return [Buffer.from(text, 'latin1'), Buffer.from(text, 'utf8'), wide, Buffer.from(wide).swap16()].some(
    (form) => bytes.includes(form),
  );
}
