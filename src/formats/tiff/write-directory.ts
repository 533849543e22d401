import { TAG } from './layout.js';

/** One field to write. `values` in units of its type: 3 SHORT, 4 LONG, 5 RATIONAL (two LONGs each), 7 bytes. */
export interface Field {
  tag: number;
  type: 3 | 4 | 5 | 7;
  values: ArrayLike<number>;
}

export const short = (tag: number, value: number): Field => ({ tag, type: 3, values: [value] });
export const shorts = (tag: number, values: number[]): Field => ({ tag, type: 3, values });
export const long = (tag: number, value: number): Field => ({ tag, type: 4, values: [value] });
export const longs = (tag: number, values: number[]): Field => ({ tag, type: 4, values });
export const rational = (tag: number, numerator: number, denominator: number): Field => ({
  tag,
  type: 5,
  values: [numerator, denominator],
});
export const raw = (tag: number, bytes: Uint8Array): Field => ({ tag, type: 7, values: bytes });

const UNIT_BYTES = { 3: 2, 4: 4, 5: 4, 7: 1 } as const;

/**
 * Header, directory and its values; the blocks follow at even offsets (TIFF 6.0, section 2). Offsets and byte
 * counts of the blocks are filled in here, since only here their places are known.
 */
export function writeDirectory(
  fields: Field[],
  blocks: Uint8Array[],
  tiled: boolean,
  little: boolean,
): Uint8Array {
  const offsetsTag: number = tiled ? TAG.tileOffsets : TAG.stripOffsets;
  const bytesTag: number = tiled ? TAG.tileBytes : TAG.stripBytes;
  const sizes = blocks.map(({ length }) => length);
  const sorted = fields.map((field) => {
    if (field.tag === bytesTag || field.tag === offsetsTag) return longs(field.tag, sizes);
    return field;
  });
  sorted.sort((a, b) => a.tag - b.tag);
  const size = 8 + 2 + 12 * sorted.length + 4 + sorted.reduce((sum, field) => sum + outsideBytes(field), 0);
  let at = size;
  const offsets = sizes.map((length) => {
    const offset = at;
    at += length + (length % 2);
    return offset;
  });
  return write(
    sorted.map((field) => (field.tag === offsetsTag ? longs(field.tag, offsets) : field)),
    size,
    little,
  );
}

const valueBytes = ({ type, values }: Field): number => UNIT_BYTES[type] * values.length;

/** Bytes outside the directory: values of more than four, padded to even. */
function outsideBytes(field: Field): number {
  const bytes = valueBytes(field);
  return bytes <= 4 ? 0 : bytes + (bytes % 2);
}

function write(fields: Field[], size: number, little: boolean): Uint8Array {
  const file = Buffer.alloc(size);
  const put = (value: number, at: number, bytes: 1 | 2 | 4): void => {
    if (little) file.writeUIntLE(value, at, bytes);
    else file.writeUIntBE(value, at, bytes);
  };
  file.write(little ? 'II' : 'MM', 0, 'latin1');
  put(42, 2, 2);
  put(8, 4, 4);
  put(fields.length, 8, 2);
  let outside = 14 + 12 * fields.length;
  fields.forEach((field, index) => {
    const at = 10 + 12 * index;
    const unit = UNIT_BYTES[field.type];
    put(field.tag, at, 2);
    put(field.type, at + 2, 2);
    put(field.type === 5 ? field.values.length / 2 : field.values.length, at + 4, 4);
    const inline = valueBytes(field) <= 4;
    if (!inline) put(outside, at + 8, 4);
    const from = inline ? at + 8 : outside;
    for (let value = 0; value < field.values.length; value++)
      put(field.values[value]!, from + unit * value, unit);
    outside += outsideBytes(field);
  });
  return file;
}
