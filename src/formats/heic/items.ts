import { refuseDamaged, refuseUnusual } from '../refusal.js';
import { type Box, BoxReader, boxesOf } from './boxes.js';

/** A picture, a piece of one, or metadata (ISO/IEC 14496-12, 8.11.6). */
export interface HeifItem {
  id: number;
  /** `hvc1`, `grid`, `Exif`, `mime` ... */
  type: string;
  hidden: boolean;
  name: string;
  contentType: string;
  contentEncoding: string;
  /** Its bytes, piece by piece; none when the file does not say where. */
  pieces: Buffer[];
}

export interface Reference {
  type: string;
  from: number;
  to: number[];
}

/** More items than any picture is cut into. */
const MOST_ITEMS = 4000;

/** ItemInfoBox. Entries of the oldest versions hold no type and are no HEIF. */
export function readInfo(file: Buffer, iinf: Box): Map<number, HeifItem> {
  const reader = new BoxReader(file, iinf);
  const version = reader.head().version;
  reader.number(version === 0 ? 2 : 4);
  const from = iinf.to - reader.left;
  const items = new Map<number, HeifItem>();
  for (const box of boxesOf(file, from, iinf.to)) {
    if (box.type !== 'infe') continue;
    const item = readEntry(file, box);
    if (items.has(item.id)) refuseDamaged('HEIC', 'two of its items have one number');
    if (items.size >= MOST_ITEMS) refuseUnusual('HEIC', 'more items than any camera writes');
    items.set(item.id, item);
  }
  return items;
}

function readEntry(file: Buffer, infe: Box): HeifItem {
  const reader = new BoxReader(file, infe);
  const { version, flags } = reader.head();
  if (version < 2) refuseUnusual('HEIC', 'an item without a type');
  const id = reader.number(version === 2 ? 2 : 4);
  if (reader.number(2) !== 0) refuseUnusual('HEIC', 'encrypted items');
  const type = reader.name();
  const name = reader.text();
  const mime = type === 'mime';
  return {
    id,
    type,
    hidden: (flags & 1) === 1,
    name,
    contentType: mime ? reader.text() : '',
    contentEncoding: mime && reader.left > 0 ? reader.text() : '',
    pieces: [],
  };
}

/** ItemLocationBox: pieces in the file (method 0) or in the idat box (method 1). */
export function readLocations(
  file: Buffer,
  iloc: Box,
  idat: Box | undefined,
  items: Map<number, HeifItem>,
): void {
  const reader = new BoxReader(file, iloc);
  const { version } = reader.head();
  const [sizes, more] = [reader.number(1), reader.number(1)];
  const [offsetSize, lengthSize, baseSize, indexSize] = [sizes >> 4, sizes & 15, more >> 4, more & 15];
  if ([offsetSize, lengthSize, baseSize, indexSize].some((size) => ![0, 4, 8].includes(size)))
    refuseDamaged('HEIC', 'its list of places is broken');
  for (let left = reader.number(version < 2 ? 2 : 4); left > 0; left--) {
    const item = items.get(reader.number(version < 2 ? 2 : 4));
    const method = version === 0 ? 0 : reader.number(2) & 15;
    const elsewhere = reader.number(2) !== 0;
    const source = method === 0 ? file : idat ? file.subarray(idat.from, idat.to) : null;
    if (elsewhere || method > 1 || !source) refuseUnusual('HEIC', 'data that lies outside the file');
    const base = reader.number(baseSize);
    const pieces: Buffer[] = [];
    for (let extents = reader.number(2); extents > 0; extents--) {
      if (version > 0) reader.number(indexSize);
      const from = base + reader.number(offsetSize);
      const length = reader.number(lengthSize);
      if (from > source.length || from + length > source.length) refuseDamaged('HEIC', 'it is cut off');
      pieces.push(length === 0 ? source.subarray(from) : source.subarray(from, from + length));
    }
    if (pieces.reduce((sum, { length }) => sum + length, 0) > file.length)
      refuseDamaged('HEIC', 'its list of places is broken');
    if (item) item.pieces = pieces;
  }
}

/** ItemReferenceBox: which item is made of, describes, or stands for which. */
export function readReferences(file: Buffer, iref: Box): Reference[] {
  const wide = file.readUInt8(iref.from) > 0 ? 4 : 2;
  return boxesOf(file, iref.from + 4, iref.to).map((box) => {
    const reader = new BoxReader(file, box);
    const from = reader.number(wide);
    const count = reader.number(2);
    if (count * wide > reader.left) refuseDamaged('HEIC', 'its references are broken');
    return { type: box.type, from, to: Array.from({ length: count }, () => reader.number(wide)) };
  });
}

/** An item's bytes in one; the pieces together are never longer than the file. */
export const piecesTogether = ({ pieces }: HeifItem): Buffer =>
  pieces.length === 1 ? pieces[0]! : Buffer.concat(pieces);
