import { latin1At } from '../bytes.js';
import { refuseDamaged, refuseTooLarge, refuseUnusual } from '../refusal.js';
import { unitsOf } from './coded-units.js';
import { type HeifItem, piecesTogether } from './items.js';
import type { HeifFile, HeifProperty } from './read-heif.js';
import type { Coding } from './to-rgb.js';
import { type Step, sizeAfter } from './transform.js';

export interface MainPicture {
  /** As shown, after every step. */
  widthPx: number;
  heightPx: number;
  stored: Size;
  tile: Size;
  /** Coded units of each tile, row by row; one when the picture is whole. */
  tiles: Buffer[][];
  /** What makes the stored picture the one that is shown, in order. */
  steps: Step[];
  /** The `prof` or `rICC` colour box. */
  profile: Buffer | null;
  /** Colour primaries and transfer of the `nclx` colour box (ITU-T H.273). */
  colour: { primaries: number; transfer: number } | null;
  /** The same box's matrix and range; null leaves them to the coded picture. */
  coding: Coding | null;
  /** More than 8 bits a channel. */
  deep: boolean;
}

export interface Size {
  widthPx: number;
  heightPx: number;
}

/**
 * The main picture, checked as far as that goes without decoding: HEVC, whole or in tiles that fit, all of it in the
 * file, sizes within the limit, only transformations that are known.
 */
export function readMainPicture(heif: HeifFile, pixelLimit: number): MainPicture {
  const item = heif.items.get(heif.primary);
  if (!item) refuseDamaged('HEIC', 'there is no picture in it');
  const stored = sizeOf(heif, item.id);
  if (stored.widthPx * stored.heightPx > pixelLimit)
    refuseTooLarge(stored.widthPx, stored.heightPx, pixelLimit);
  const coded = item.type === 'grid' ? readTiles(heif, item, stored) : [item];
  const tiles = coded.map((one) => readUnits(heif, one, pixelLimit));
  if (hasAlpha(heif)) refuseUnusual('HEIC', 'transparent parts');
  const properties = propertiesOf(heif, item.id);
  const steps = readSteps(properties, stored);
  return {
    ...steps.reduce(sizeAfter<Size>, stored),
    stored,
    tile: sizeOf(heif, coded[0]!.id),
    tiles,
    steps,
    ...colourOf([...properties, ...propertiesOf(heif, coded[0]!.id)]),
    // bit_depth_luma_minus8 (ISO/IEC 14496-15, 8.3.3.1.2)
    deep: coded.some((one) => (codingOf(heif, one).readUInt8(17) & 7) > 0),
  };
}

const propertiesOf = (heif: HeifFile, id: number): HeifProperty[] => heif.properties.get(id) ?? [];

/** ImageSpatialExtentsProperty (ISO/IEC 23008-12, 6.5.3). */
function sizeOf(heif: HeifFile, id: number): Size {
  const property = propertiesOf(heif, id).find(({ type }) => type === 'ispe');
  if (!property) refuseDamaged('HEIC', 'its size is missing');
  const [widthPx, heightPx] = [property.body.readUInt32BE(4), property.body.readUInt32BE(8)];
  if (widthPx === 0 || heightPx === 0) refuseDamaged('HEIC', 'its size is zero');
  return { widthPx, heightPx };
}

/** ImageGrid (ISO/IEC 23008-12, 6.6.2.3): rows and columns of equal tiles that just cover the picture. */
function readTiles(heif: HeifFile, grid: HeifItem, stored: Size): HeifItem[] {
  const body = piecesTogether(grid);
  const wide = (body.readUInt8(1) & 1) === 1 ? 4 : 2;
  const [rows, columns] = [body.readUInt8(2) + 1, body.readUInt8(3) + 1];
  const size = { widthPx: body.readUIntBE(4, wide), heightPx: body.readUIntBE(4 + wide, wide) };
  if (size.widthPx !== stored.widthPx || size.heightPx !== stored.heightPx)
    refuseDamaged('HEIC', 'its sizes contradict each other');
  const ids = heif.references.find(({ type, from }) => type === 'dimg' && from === grid.id)?.to ?? [];
  const tiles = ids.flatMap((id) => heif.items.get(id) ?? []);
  if (tiles.length !== rows * columns) refuseDamaged('HEIC', 'a part of the picture is missing');
  const sizes = tiles.map(({ id }) => sizeOf(heif, id));
  const tile = sizes[0]!;
  const even = sizes.every(({ widthPx, heightPx }) => widthPx === tile.widthPx && heightPx === tile.heightPx);
  const fits =
    Math.ceil(size.widthPx / tile.widthPx) === columns && Math.ceil(size.heightPx / tile.heightPx) === rows;
  if (!even || !fits) refuseDamaged('HEIC', 'its tiles do not fit');
  return tiles;
}

function readUnits(heif: HeifFile, item: HeifItem, pixelLimit: number): Buffer[] {
  if (item.type === 'av01') refuseUnusual('HEIC', 'AVIF coding, which is not read here (a JPEG is)');
  if (item.type !== 'hvc1') refuseUnusual('HEIC', 'a kind of picture that no camera writes into HEIC');
  return unitsOf(codingOf(heif, item), piecesTogether(item), pixelLimit);
}

function codingOf(heif: HeifFile, { id }: HeifItem): Buffer {
  const coding = propertiesOf(heif, id).find(({ type }) => type === 'hvcC');
  return coding?.body ?? refuseDamaged('HEIC', 'the coding of its picture is not described');
}

/** An auxiliary picture of transparency that belongs to the main one (ISO/IEC 23008-12, 6.5.8). */
function hasAlpha(heif: HeifFile): boolean {
  return heif.references.some(({ type, from, to }) => {
    if (type !== 'auxl' || !to.includes(heif.primary)) return false;
    const kind = propertiesOf(heif, from).find((property) => property.type === 'auxC')?.body;
    return kind !== undefined && /alpha|auxid:1\0/.test(latin1At(kind, 4, 60));
  });
}

/** Clean aperture, rotation and mirror, in the order in which the file applies them. */
function readSteps(properties: HeifProperty[], stored: Size): Step[] {
  const steps: Step[] = [];
  let size = stored;
  for (const { type, body } of properties) {
    const step = readStep(type, body, size);
    if (!step) continue;
    steps.push(step);
    size = sizeAfter(size, step);
  }
  return steps;
}

function readStep(type: string, body: Buffer, size: Size): Step | null {
  switch (type) {
    case 'irot':
      return { kind: 'turn', quarters: body.readUInt8(0) & 3 };
    case 'imir':
      return { kind: 'mirror', about: (body.readUInt8(0) & 1) === 0 ? 'horizontal' : 'vertical' };
    case 'clap':
      return readCrop(body, size);
    case 'iscl':
      return refuseUnusual('HEIC', 'a picture that is scaled when shown');
    default:
      return null;
  }
}

/** CleanApertureBox (ISO/IEC 14496-12, 12.1.4.1): size, then how far its centre is from the picture's, as fractions. */
function readCrop(body: Buffer, size: Size): Step {
  const fraction = (at: number): number => body.readInt32BE(at) / body.readUInt32BE(at + 4);
  const [widthPx, heightPx] = [fraction(0), fraction(8)];
  const left = fraction(16) + (size.widthPx - widthPx) / 2;
  const top = fraction(24) + (size.heightPx - heightPx) / 2;
  const whole = [widthPx, heightPx, left, top].every(Number.isInteger);
  if (!whole || widthPx < 1 || heightPx < 1) refuseUnusual('HEIC', 'a crop by parts of a pixel');
  if (left < 0 || top < 0 || left + widthPx > size.widthPx || top + heightPx > size.heightPx)
    refuseDamaged('HEIC', 'a crop reaches beyond the picture');
  return { kind: 'crop', left, top, widthPx, heightPx };
}

/** ColourInformationBox (ISO/IEC 14496-12, 12.1.5): a profile, numbers of ITU-T H.273, or both. */
function colourOf(properties: HeifProperty[]): Pick<MainPicture, 'profile' | 'colour' | 'coding'> {
  const boxes = properties.filter(({ type }) => type === 'colr');
  const kind = ({ body }: HeifProperty): string => latin1At(body, 0, 4);
  const profile = boxes.find((box) => ['prof', 'rICC'].includes(kind(box)))?.body.subarray(4) ?? null;
  const numbers = boxes.find((box) => kind(box) === 'nclx')?.body;
  if (!numbers) return { profile, colour: null, coding: null };
  return {
    profile,
    colour: { primaries: numbers.readUInt16BE(4), transfer: numbers.readUInt16BE(6) },
    coding: { matrix: numbers.readUInt16BE(8), fullRange: numbers.readUInt8(10) >= 0x80 },
  };
}
