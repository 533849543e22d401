import { viewOf } from '../bytes.js';
import type { PngChunk, PngParts } from './read-png.js';

/**
 * True for a chunk that may stay as it is: on the allow-list, of the right length, with values its meaning allows.
 * Eight letters of a name in a cHRM chunk are no chromaticities.
 */
export function isPlausible(
  { name, data }: PngChunk,
  png: Pick<PngParts, 'bitDepth' | 'colourType'>,
): boolean {
  const view = viewOf(data);
  const most = 2 ** png.bitDepth - 1;
  const samples = (count: number): boolean =>
    data.length === 2 * count &&
    Array.from({ length: count }, (_, i) => view.readUInt16BE(2 * i)).every((v) => v <= most);
  const channels = png.colourType === 0 || png.colourType === 4 ? 1 : 3;
  switch (name) {
    case 'IHDR':
      return true;
    case 'IEND':
      return data.length === 0;
    case 'PLTE':
      // elsewhere it only suggests colours, and could be text
      return png.colourType === 3 && data.length > 0 && data.length <= 768 && data.length % 3 === 0;
    case 'tRNS':
      return png.colourType === 3
        ? data.length > 0 && data.length <= 256
        : png.colourType < 3 && samples(channels);
    case 'gAMA':
      return data.length === 4 && within(view.readUInt32BE(0), 1000, 1_000_000);
    case 'cHRM':
      return (
        data.length === 32 && [0, 4, 8, 12, 16, 20, 24, 28].every((at) => view.readUInt32BE(at) < 200_000)
      );
    case 'sRGB':
      return data.length === 1 && data[0]! <= 3;
    case 'sBIT':
      return data.length <= 4 && data.every((bits) => within(bits, 1, 16));
    case 'bKGD':
      return png.colourType === 3 ? data.length === 1 : samples(channels);
    case 'pHYs':
      return data.length === 9 && data[8]! <= 1 && view.readUInt32BE(0) < 1e6 && view.readUInt32BE(4) < 1e6;
    case 'cICP':
      return data.length === 4 && data[2] === 0 && data[3]! <= 1;
    default:
      return false;
  }
}

const within = (value: number, from: number, to: number): boolean => value >= from && value <= to;
