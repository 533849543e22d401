import { at, EXPLICIT, encode, type Planted } from '../copy/source-object.js';

/** Preamble, mark and file meta group; without a transfer syntax when it is null. */
export function metaOf(transferSyntax: string | null, storageClass = '1.2.840.10008.5.1.4.1.1.1.3'): Buffer {
  const group = encode(
    [
      at(0x00020001, 'OB', Uint8Array.of(0, 1)),
      at(0x00020002, 'UI', storageClass),
      at(0x00020003, 'UI', '1.2.3.4.5.6'),
      ...(transferSyntax === null ? [] : [at(0x00020010, 'UI', transferSyntax)]),
      at(0x00020012, 'UI', '1.2.3.999'),
    ],
    EXPLICIT,
  );
  const opening = Buffer.alloc(132);
  opening.write('DICM', 128, 'latin1');
  return Buffer.concat([opening, encode([at(0x00020000, 'UL', [group.length])], EXPLICIT), group]);
}

export const withoutPreamble = (file: Buffer): Buffer => file.subarray(132);

const item = (bytes: Uint8Array): Buffer => {
  const head = Buffer.alloc(8);
  head.writeUInt32LE(0xe000fffe);
  head.writeUInt32LE(bytes.length + (bytes.length % 2), 4);
  return Buffer.concat([head, bytes, Buffer.alloc(bytes.length % 2)]);
};

/**
 * A file whose picture is coded (PS3.5, A.4). `elements` without picture data; `fragments` of all frames in order;
 * `starts`: which fragments begin a frame, for the offset table, which is else empty.
 */
export function codedFile(
  elements: readonly Planted[],
  transferSyntax: string,
  fragments: readonly Uint8Array[],
  starts: readonly number[] = [],
): Buffer {
  const items = fragments.map(item);
  const places = items.map((_, at) => items.slice(0, at).reduce((sum, one) => sum + one.length, 0));
  const table = Buffer.alloc(4 * starts.length);
  starts.forEach((start, at) => void table.writeUInt32LE(places[start]!, 4 * at));
  return Buffer.concat([
    metaOf(transferSyntax),
    encode(
      elements.filter(({ tag }) => tag < 0x7fe00010),
      EXPLICIT,
    ),
    Buffer.from([0xe0, 0x7f, 0x10, 0, 0x4f, 0x42, 0, 0, 0xff, 0xff, 0xff, 0xff]),
    item(table),
    ...items,
    Buffer.from([0xfe, 0xff, 0xdd, 0xe0, 0, 0, 0, 0]),
  ]);
}
