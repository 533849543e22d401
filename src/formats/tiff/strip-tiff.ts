import { tally } from '../bytes.js';
import { canonicalProfile } from '../colour-profile/index.js';
import type { StrippedPart, StrippedParts } from '../format.js';
import { type TiffDirectory, TiffReader } from './directory.js';
import { NONE, readLayout, TAG, type TiffLayout } from './layout.js';
import { picturePages } from './pages.js';
import { rebuildBlocks } from './rebuild-blocks.js';
import { type Field, long, longs, rational, raw, short, shorts, writeDirectory } from './write-directory.js';

const KEPT = new Set<number>(Object.values(TAG));

/** Page 1 in a new file: header, one directory of allow-listed tags, their values, then the pixel data. */
export function stripTiff(bytes: Uint8Array): StrippedParts {
  const tiff = new TiffReader(bytes);
  const [page, ...others] = picturePages(tiff);
  const layout = readLayout(tiff, page!);
  const rebuilt = rebuildBlocks(tiff.file, layout);
  const source = page!.entries.get(TAG.icc);
  const channels = layout.photometric === 5 ? 'cmyk' : layout.photometric <= 1 ? 'grey' : 'rgb';
  const { profile, notes } = canonicalProfile(source ? (source.bytes ?? new Uint8Array(0)) : null, channels);
  const fields = [...fieldsOf(layout, rebuilt.compression), ...resolutionOf(tiff, page!)];
  if (profile) fields.push(raw(TAG.icc, profile));
  const head = writeDirectory(fields, rebuilt.blocks, layout.tiled, tiff.little);
  const parts: StrippedPart[] = [{ bytes: head, picture: false }];
  for (const block of rebuilt.blocks)
    parts.push({ bytes: block, picture: true }, { bytes: new Uint8Array(block.length % 2), picture: false });
  const removed: Record<string, number> = {};
  for (const tag of page!.entries.keys()) if (!KEPT.has(tag)) tally(removed, 'tag');
  if (source) tally(removed, 'icc');
  tally(removed, 'page', others.length);
  tally(removed, 'after-the-picture-data', rebuilt.slack);
  return { parts, removed, notes };
}

function fieldsOf(layout: TiffLayout, compression: number): Field[] {
  const { samples, bits } = layout;
  const fields = [
    long(TAG.width, layout.widthPx),
    long(TAG.height, layout.heightPx),
    shorts(TAG.bits, new Array<number>(samples).fill(bits)),
    short(TAG.compression, compression),
    short(TAG.photometric, layout.photometric),
    short(TAG.samples, samples),
    short(TAG.planar, layout.planes > 1 ? 2 : 1),
    longs(layout.tiled ? TAG.tileBytes : TAG.stripBytes, []),
    longs(layout.tiled ? TAG.tileOffsets : TAG.stripOffsets, []),
  ];
  if (layout.tiled) {
    fields.push(long(TAG.tileWidth, layout.blockWidthPx), long(TAG.tileHeight, layout.blockHeightPx));
  } else fields.push(long(TAG.rowsPerStrip, layout.blockHeightPx));
  if (layout.predictor !== 1 && compression !== NONE) fields.push(short(TAG.predictor, layout.predictor));
  if (layout.fillOrder !== 1) fields.push(short(TAG.fillOrder, layout.fillOrder));
  if (layout.extraSamples.length > 0) fields.push(shorts(TAG.extraSamples, layout.extraSamples));
  if (layout.colourMap) fields.push(shorts(TAG.colourMap, layout.colourMap));
  return fields;
}

/** Resolution as hundredths, so that no eight bytes of the source are copied. Left out unless plausible. */
function resolutionOf(tiff: TiffReader, page: TiffDirectory): Field[] {
  const values = [TAG.xResolution, TAG.yResolution].map((tag) => {
    const entry = page.entries.get(tag);
    if (entry?.type !== 5 || entry.count !== 1 || !entry.bytes) return 0;
    const read = (at: number) =>
      tiff.little ? entry.bytes!.readUInt32LE(at) : entry.bytes!.readUInt32BE(at);
    const value = Math.round((100 * read(0)) / read(4));
    return value > 0 && value < 1e8 ? value : 0;
  });
  const unit = page.entries.get(TAG.resolutionUnit)?.type === 3 ? tiff.number(page, TAG.resolutionUnit) : 2;
  if (values.some((value) => value === 0) || unit < 1 || unit > 3) return [];
  return [
    rational(TAG.xResolution, values[0]!, 100),
    rational(TAG.yResolution, values[1]!, 100),
    short(TAG.resolutionUnit, unit),
  ];
}
