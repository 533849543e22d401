/** Writes DICOM objects for tests, by PS3.5, in every way of writing that a source may have. Shares nothing with the writer under test. */

export type Value = string | Uint8Array | number[] | Planted[][];

/** `open`: a sequence without a length, ended by marks. `vr` UN with items: implicit VR inside. */
export interface Planted {
  tag: number;
  vr: string;
  value: Value;
  open?: boolean;
}

export interface Writing {
  explicit: boolean;
  bigEndian: boolean;
}

export const EXPLICIT: Writing = { explicit: true, bigEndian: false };
export const IMPLICIT: Writing = { explicit: false, bigEndian: false };
export const BIG: Writing = { explicit: true, bigEndian: true };

const LONG = new Set(['OB', 'OD', 'OF', 'OL', 'OV', 'OW', 'SQ', 'SV', 'UC', 'UN', 'UR', 'UT', 'UV']);
const UNDEFINED = 0xffffffff;

export const at = (tag: number, vr: string, value: Value, open = false): Planted => ({
  tag,
  vr,
  value,
  open,
});

export function encode(elements: readonly Planted[], writing: Writing): Buffer {
  const ordered = elements.toSorted((a, b) => a.tag - b.tag);
  return Buffer.concat(ordered.map((element) => encodeElement(element, writing)));
}

function encodeElement({ tag, vr, value, open }: Planted, writing: Writing): Buffer {
  const nested = isItems(value);
  const inside = vr === 'UN' ? IMPLICIT : writing;
  const content = nested ? encodeItems(value, inside, open ?? false) : encodeValue(value, vr, writing);
  const length = nested && open ? UNDEFINED : content.length;
  return Buffer.concat([
    header(tag, vr, length, writing),
    content,
    nested && open ? mark(0xe0dd, writing) : Buffer.alloc(0),
  ]);
}

const isItems = (value: Value): value is Planted[][] =>
  Array.isArray(value) && (value.length === 0 || Array.isArray(value[0]));

function encodeItems(items: Planted[][], writing: Writing, open: boolean): Buffer {
  return Buffer.concat(
    items.map((item) => {
      const inside = encode(item, writing);
      const length = open ? UNDEFINED : inside.length;
      return Buffer.concat([
        shorts([0xfffe, 0xe000], writing),
        longs([length], writing),
        inside,
        open ? mark(0xe00d, writing) : Buffer.alloc(0),
      ]);
    }),
  );
}

const mark = (element: number, writing: Writing): Buffer =>
  Buffer.concat([shorts([0xfffe, element], writing), longs([0], writing)]);

function header(tag: number, vr: string, length: number, writing: Writing): Buffer {
  const name = shorts([tag >>> 16, tag & 0xffff], writing);
  if (!writing.explicit) return Buffer.concat([name, longs([length], writing)]);
  const letters = Buffer.from(vr, 'latin1');
  if (LONG.has(vr)) return Buffer.concat([name, letters, Buffer.alloc(2), longs([length], writing)]);
  return Buffer.concat([name, letters, shorts([length], writing)]);
}

function encodeValue(
  value: string | Uint8Array | number[] | Planted[][],
  vr: string,
  writing: Writing,
): Buffer {
  if (typeof value === 'string') return even(Buffer.from(value, 'utf8'), vr === 'UI' ? 0 : 32);
  if (value instanceof Uint8Array) return even(Buffer.from(value), 0);
  const numbers = value as number[];
  if (vr === 'US' || vr === 'SS' || vr === 'OW') return shorts(numbers, writing);
  if (vr === 'UL' || vr === 'SL') return longs(numbers, writing);
  throw new Error(`no numbers in ${vr}`);
}

const even = (bytes: Buffer, padding: number): Buffer =>
  bytes.length % 2 === 0 ? bytes : Buffer.concat([bytes, Buffer.from([padding])]);

function shorts(numbers: readonly number[], { bigEndian }: Writing): Buffer {
  const bytes = Buffer.alloc(2 * numbers.length);
  numbers.forEach((number, index) => {
    if (bigEndian) bytes.writeUInt16BE(number & 0xffff, 2 * index);
    else bytes.writeUInt16LE(number & 0xffff, 2 * index);
  });
  return bytes;
}

function longs(numbers: readonly number[], { bigEndian }: Writing): Buffer {
  const bytes = Buffer.alloc(4 * numbers.length);
  numbers.forEach((number, index) => {
    if (bigEndian) bytes.writeUInt32BE(number >>> 0, 4 * index);
    else bytes.writeUInt32LE(number >>> 0, 4 * index);
  });
  return bytes;
}

const SYNTAXES = new Map<Writing, string>([
  [EXPLICIT, '1.2.840.10008.1.2.1'],
  [IMPLICIT, '1.2.840.10008.1.2'],
  [BIG, '1.2.840.10008.1.2.2'],
]);

/** A whole file. `preamble`: what its 128 bytes say; `meta`: more elements of the file meta group. */
export function fileOf(
  elements: readonly Planted[],
  writing: Writing = EXPLICIT,
  { preamble = '', meta = [] as Planted[] } = {},
): Buffer {
  const group = encode(
    [
      at(0x00020001, 'OB', Uint8Array.of(0, 1)),
      at(0x00020002, 'UI', '1.2.840.10008.5.1.4.1.1.1.3'),
      at(0x00020003, 'UI', '1.2.3.4.5.6'),
      at(0x00020010, 'UI', SYNTAXES.get(writing) as string),
      at(0x00020012, 'UI', '1.2.3.999'),
      ...meta,
    ],
    EXPLICIT,
  );
  const opening = Buffer.alloc(132);
  opening.write(preamble, 0, 'latin1');
  opening.write('DICM', 128, 'latin1');
  return Buffer.concat([
    opening,
    encodeElement(at(0x00020000, 'UL', [group.length]), EXPLICIT),
    group,
    encode(elements, writing),
  ]);
}
