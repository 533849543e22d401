import { latin1Bytes } from '../bytes.js';
import { type HeifItem, piecesTogether } from './items.js';
import type { HeifFile, HeifProperty } from './read-heif.js';

/** Properties a decoder needs: coding, size, crop, turning, mirror, and how brightness and colour make RGB. */
const NEEDED = new Set(['hvcC', 'ispe', 'clap', 'irot', 'imir']);

const isNeeded = ({ type, body }: HeifProperty): boolean =>
  NEEDED.has(type) || (type === 'colr' && body.toString('latin1', 0, 4) === 'nclx');

/**
 * A file of our own with the main picture and nothing else, so that the decoder never sees what it does not need:
 * other pictures, metadata, maps, overlapping or odd places. Items are numbered anew, the main one first.
 * @param pictures the main picture, then the tiles it is made of, if it is
 */
export function mainFile(heif: HeifFile, pictures: readonly HeifItem[]): Buffer {
  const head = (dataAt: number): Buffer => Buffer.concat([FTYP, metaOf(heif, pictures, dataAt)]);
  const data = pictures.map(piecesTogether);
  return Buffer.concat([head(head(0).length + 8), box('mdat', ...data)]);
}

const FTYP = box('ftyp', latin1Bytes('heic\0\0\0\0mif1heic'));

/** MetaBox and what is in it (ISO/IEC 14496-12, 8.11; ISO/IEC 23008-12, 9.3). */
function metaOf(heif: HeifFile, pictures: readonly HeifItem[], dataAt: number): Buffer {
  const [main, ...tiles] = pictures;
  const entries = pictures.map(({ type }, index) =>
    fullBox('infe', 2, index === 0 ? 0 : 1, u16(index + 1, 0), latin1Bytes(`${type}\0`)),
  );
  let at = dataAt;
  const places = pictures.map((item, index) => {
    const { length } = piecesTogether(item);
    at += length;
    return Buffer.concat([u16(index + 1, 0, 1), u32(at - length, length)]);
  });
  const tileNumbers = tiles.map((_, index) => index + 2);
  const reference = box('dimg', u16(1, tiles.length, ...tileNumbers));
  const listed = [...new Set(pictures.flatMap(({ id }) => neededOf(heif, id)))];
  const owned = pictures.map(({ id }, index) => {
    const numbers = neededOf(heif, id).map((property) => 0x8000 | (listed.indexOf(property) + 1));
    return Buffer.concat([u16(index + 1), Uint8Array.of(numbers.length), u16(...numbers)]);
  });
  return fullBox(
    'meta',
    0,
    0,
    fullBox('hdlr', 0, 0, latin1Bytes(`\0\0\0\0pict${'\0'.repeat(13)}`)),
    fullBox('pitm', 0, 0, u16(1)),
    fullBox('iinf', 0, 0, u16(pictures.length), ...entries),
    fullBox('iloc', 0, 0, Uint8Array.of(0x44, 0), u16(pictures.length), ...places),
    ...(main && tiles.length > 0 ? [fullBox('iref', 0, 0, reference)] : []),
    box(
      'iprp',
      box('ipco', ...listed.map(({ type, body }) => box(type, body))),
      fullBox('ipma', 0, 1, u32(pictures.length), ...owned),
    ),
  );
}

const neededOf = (heif: HeifFile, id: number): HeifProperty[] =>
  (heif.properties.get(id) ?? []).filter(isNeeded);

function box(type: string, ...parts: Uint8Array[]): Buffer {
  const body = Buffer.concat(parts);
  return Buffer.concat([u32(8 + body.length), latin1Bytes(type), body]);
}

const fullBox = (type: string, version: number, flags: number, ...parts: Uint8Array[]): Buffer =>
  box(type, Uint8Array.of(version, 0, 0, flags), ...parts);

const u16 = (...values: number[]): Buffer =>
  Buffer.concat(values.map((value) => Uint8Array.of(value >> 8, value & 255)));

function u32(...values: number[]): Buffer {
  const bytes = Buffer.alloc(4 * values.length);
  values.forEach((value, index) => {
    bytes.writeUInt32BE(value, 4 * index);
  });
  return bytes;
}
