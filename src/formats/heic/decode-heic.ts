import { held, kept, type Outcome } from '../../core/outcome.js';
import type { StoredPixels } from '../format.js';
import { outcomeOf } from '../refusal.js';
import { decodeUnits, dropEngine, openEngine } from './hevc.js';
import { type MainPicture, readMainPicture } from './main-picture.js';
import { readHeif } from './read-heif.js';
import { type Rgb, writeRgb } from './to-rgb.js';
import { transform } from './transform.js';

export interface DecodedPicture {
  pixels: StoredPixels;
  picture: MainPicture;
}

/**
 * The main picture as 8-bit RGB, upright: its own crop, rotation and mirror are applied, EXIF's orientation is not.
 * The decoder sees coded pictures only, never the file; sizes are checked before, what comes out after.
 */
export async function decodeHeic(bytes: Uint8Array, pixelLimit: number): Promise<Outcome<DecodedPicture>> {
  const read = outcomeOf('HEIC', () => readMainPicture(readHeif(bytes), pixelLimit));
  if (read.kind !== 'kept') return read;
  const picture = read.value;
  const stored = await decodeTiles(picture);
  if (stored.kind !== 'kept') return stored;
  const { data, widthPx, heightPx } = picture.steps.reduce(transform, stored.value);
  return kept({ pixels: { data, widthPx, heightPx, channels: 3, bitsPerChannel: 8 }, picture });
}

const broken = (what: string): Outcome<never> => held({ code: 'damaged', format: 'HEIC', what });

/** The stored picture, put together from its tiles; a whole one is a single tile. */
async function decodeTiles({ stored, tile, tiles, coding }: MainPicture): Promise<Outcome<Rgb>> {
  const into: Rgb = { ...stored, data: new Uint8Array(3 * stored.widthPx * stored.heightPx) };
  const columns = Math.ceil(stored.widthPx / tile.widthPx);
  const engine = await openEngine();
  try {
    for (const [index, units] of tiles.entries()) {
      const decoded = decodeUnits(engine, units);
      const luma = decoded?.planes[0];
      if (!decoded || !luma) return broken('a part of the picture is missing or broken');
      if (luma.widthPx !== tile.widthPx || luma.heightPx !== tile.heightPx)
        return broken('its sizes contradict each other');
      const [column, row] = [index % columns, Math.floor(index / columns)];
      const written = outcomeOf('HEIC', () =>
        writeRgb(decoded, coding ?? decoded, into, column * tile.widthPx, row * tile.heightPx),
      );
      if (written.kind !== 'kept') return written;
    }
    return kept(into);
  } catch {
    dropEngine();
    return broken('a part of the picture is missing or broken');
  }
}
