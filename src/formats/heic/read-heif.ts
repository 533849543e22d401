import { viewOf } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';
import { type Box, BoxReader, boxesOf, topBoxes } from './boxes.js';
import { type HeifItem, type Reference, readInfo, readLocations, readReferences } from './items.js';

/** One property of a picture: size, turning, colour, coding. */
export interface HeifProperty {
  type: string;
  body: Buffer;
}

/** A HEIF file taken apart (ISO/IEC 23008-12): its items, what belongs to which, and everything around them. */
export interface HeifFile {
  file: Buffer;
  primary: number;
  items: Map<number, HeifItem>;
  references: Reference[];
  /** By item, in the order in which they apply. */
  properties: Map<number, HeifProperty[]>;
  /** Boxes outside the picture's own: a moving picture, a maker's box ... */
  others: Box[];
  trailing: Buffer;
}

const PICTURE_BOXES = new Set(['ftyp', 'meta', 'mdat', 'free', 'skip']);

/** Walks the boxes; leaves by refusal when they do not fit together. */
export function readHeif(bytes: Uint8Array): HeifFile {
  const file = viewOf(bytes);
  const { boxes, trailing } = topBoxes(file);
  const metas = boxes.filter(({ type }) => type === 'meta');
  const [meta] = metas;
  if (!meta && boxes.some(({ type }) => type === 'moov'))
    refuseUnusual('HEIC', 'a moving picture without a still one');
  if (!meta) refuseDamaged('HEIC', 'there is no picture in it');
  if (metas.length > 1) refuseUnusual('HEIC', 'more than one list of pictures');
  return {
    file,
    ...readMeta(file, meta),
    others: boxes.filter(({ type }) => !PICTURE_BOXES.has(type)),
    trailing,
  };
}

/** The meta box: which picture is the main one, and what each item is and has (ISO/IEC 14496-12, 8.11). */
function readMeta(file: Buffer, meta: Box) {
  const inside = boxesOf(file, meta.from + 4, meta.to);
  const find = (type: string): Box => {
    const box = inside.find((one) => one.type === type);
    return box ?? refuseDamaged('HEIC', 'there is no picture in it');
  };
  const handler = new BoxReader(file, find('hdlr'));
  handler.head();
  handler.number(4);
  if (handler.name() !== 'pict') refuseDamaged('HEIC', 'there is no picture in it');
  const main = new BoxReader(file, find('pitm'));
  const primary = main.head().version === 0 ? main.number(2) : main.number(4);
  const items = readInfo(file, find('iinf'));
  const idat = inside.find(({ type }) => type === 'idat');
  readLocations(file, find('iloc'), idat, items);
  const iref = inside.find(({ type }) => type === 'iref');
  const references = iref ? readReferences(file, iref) : [];
  return { primary, items, references, properties: readProperties(file, find('iprp')) };
}

/** ItemPropertiesBox (ISO/IEC 23008-12, 9.3): a list of properties, then which item has which of them. */
function readProperties(file: Buffer, iprp: Box): Map<number, HeifProperty[]> {
  const inside = boxesOf(file, iprp.from, iprp.to);
  const container = inside.find(({ type }) => type === 'ipco');
  if (!container) refuseDamaged('HEIC', 'its picture has no properties');
  const all = boxesOf(file, container.from, container.to).map(({ type, from, to }) => ({
    type,
    body: file.subarray(from, to),
  }));
  const properties = new Map<number, HeifProperty[]>();
  for (const box of inside.filter(({ type }) => type === 'ipma')) {
    const reader = new BoxReader(file, box);
    const { version, flags } = reader.head();
    for (let left = reader.number(4); left > 0; left--) {
      const id = reader.number(version === 0 ? 2 : 4);
      const mine = properties.get(id) ?? [];
      for (let more = reader.number(1); more > 0; more--) {
        // The top bit says whether a reader must understand it.
        const index = (flags & 1) === 1 ? reader.number(2) & 0x7fff : reader.number(1) & 0x7f;
        const property = all[index - 1];
        if (index > 0 && !property) refuseDamaged('HEIC', 'a property of its picture is missing');
        if (property) mine.push(property);
      }
      properties.set(id, mine);
    }
  }
  return properties;
}
