import { latin1At, viewOf } from '../bytes.js';
import { refuseDamaged, refuseTooLarge, refuseUnusual } from '../refusal.js';
import { checkUnits } from './coded-units.js';
import { type HeifItem, piecesTogether } from './items.js';
import type { HeifFile, HeifProperty } from './read-heif.js';

export interface MainPicture {
  /** After cropping and turning, as the decoder gives it. */
  widthPx: number;
  heightPx: number;
  /** True when the file itself turns or mirrors the picture. */
  turned: boolean;
  /** The `prof` or `rICC` colour box. */
  profile: Buffer | null;
  /** Colour primaries and transfer of the `nclx` colour box (ITU-T H.273). */
  colour: { primaries: number; transfer: number } | null;
  /** More than 8 bits a channel. */
  deep: boolean;
  /** Its item, and the tiles it is made of when it is. */
  items: HeifItem[];
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
  for (const one of coded) checkCoded(heif, one);
  if (hasAlpha(heif)) refuseUnusual('HEIC', 'transparent parts');
  const properties = propertiesOf(heif, item.id);
  const depths = coded.map(({ id }) => propertiesOf(heif, id).find(({ type }) => type === 'hvcC')!.body);
  return {
    ...transformed(properties, stored),
    ...colourOf([...properties, ...propertiesOf(heif, coded[0]!.id)]),
    // bit_depth_luma_minus8 (ISO/IEC 14496-15, 8.3.3.1.2)
    deep: depths.some((body) => (viewOf(body).readUInt8(17) & 7) > 0),
    items: [...new Set([item, ...coded])],
  };
}

const propertiesOf = (heif: HeifFile, id: number): HeifProperty[] => heif.properties.get(id) ?? [];

interface Size {
  widthPx: number;
  heightPx: number;
}

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

function checkCoded(heif: HeifFile, item: HeifItem): void {
  if (item.type === 'av01') refuseUnusual('HEIC', 'AVIF coding, which is not read here (a JPEG is)');
  if (item.type !== 'hvc1') refuseUnusual('HEIC', 'a kind of picture that no camera writes into HEIC');
  const coding = propertiesOf(heif, item.id).find(({ type }) => type === 'hvcC');
  if (!coding) refuseDamaged('HEIC', 'the coding of its picture is not described');
  checkUnits(coding.body, piecesTogether(item));
}

/** An auxiliary picture of transparency that belongs to the main one (ISO/IEC 23008-12, 6.5.8). */
function hasAlpha(heif: HeifFile): boolean {
  return heif.references.some(({ type, from, to }) => {
    if (type !== 'auxl' || !to.includes(heif.primary)) return false;
    const kind = propertiesOf(heif, from).find((property) => property.type === 'auxC')?.body;
    return kind !== undefined && /alpha|auxid:1\0/.test(latin1At(kind, 4, 60));
  });
}

/** Clean aperture, rotation and mirror in the order in which the file applies them (ISO/IEC 23008-12, 6.5.9 to 6.5.12). */
function transformed(properties: HeifProperty[], stored: Size): Size & { turned: boolean } {
  let { widthPx, heightPx } = stored;
  let turned = false;
  for (const { type, body } of properties) {
    if (type === 'irot' && (body.readUInt8(0) & 1) === 1) [widthPx, heightPx] = [heightPx, widthPx];
    if (type === 'clap') [widthPx, heightPx] = [apertureOf(body, 0, widthPx), apertureOf(body, 8, heightPx)];
    if (type === 'imir' || (type === 'irot' && (body.readUInt8(0) & 3) !== 0)) turned = true;
    if (type === 'iscl') refuseUnusual('HEIC', 'a picture that is scaled when shown');
  }
  return { widthPx, heightPx, turned };
}

/** Width or height as a fraction; only whole pixels within the picture are taken. */
function apertureOf(body: Buffer, at: number, wholePx: number): number {
  const px = body.readUInt32BE(at) / body.readUInt32BE(at + 4);
  if (!Number.isInteger(px) || px < 1 || px > wholePx) refuseUnusual('HEIC', 'a crop by parts of a pixel');
  return px;
}

/** ColourInformationBox (ISO/IEC 14496-12, 12.1.5): a profile, numbers of ITU-T H.273, or both. */
function colourOf(properties: HeifProperty[]): Pick<MainPicture, 'profile' | 'colour'> {
  const boxes = properties.filter(({ type }) => type === 'colr');
  const kind = ({ body }: HeifProperty): string => latin1At(body, 0, 4);
  const profile = boxes.find((box) => ['prof', 'rICC'].includes(kind(box)))?.body.subarray(4) ?? null;
  const numbers = boxes.find((box) => kind(box) === 'nclx')?.body;
  const colour = numbers ? { primaries: numbers.readUInt16BE(4), transfer: numbers.readUInt16BE(6) } : null;
  return { profile, colour };
}
