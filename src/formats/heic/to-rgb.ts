import { refuseUnusual } from '../refusal.js';
import type { DecodedUnits, Plane } from './hevc.js';

/** 8-bit RGB, channels interleaved. */
export interface Rgb {
  data: Uint8Array;
  widthPx: number;
  heightPx: number;
}

/** Shares of red and blue in brightness by matrix code (ITU-T H.273, table 4); 2, unspecified, is taken as 6. */
const SHARES: Record<number, [red: number, blue: number]> = {
  1: [0.2126, 0.0722],
  2: [0.299, 0.114],
  5: [0.299, 0.114],
  6: [0.299, 0.114],
  9: [0.2627, 0.0593],
};
const IDENTITY = 0;

/** How the file says brightness and colour make RGB; it outweighs what the coded picture says. */
export interface Coding {
  matrix: number;
  fullRange: boolean;
}

/**
 * Writes a decoded picture or tile into `into` at a place; what reaches beyond the edges is cut off. Colours at half
 * size are repeated, as libheif does without being asked for more.
 */
export function writeRgb(decoded: DecodedUnits, coding: Coding, into: Rgb, left: number, top: number): void {
  const [luma, first = luma, second = luma] = decoded.planes as [Plane, Plane?, Plane?];
  const grey = decoded.planes.length === 1;
  const tables = tablesOf(coding, luma.bits, first.bits, grey);
  const [across, down] = [luma.widthPx / first.widthPx, luma.heightPx / first.heightPx];
  const columns = Math.min(luma.widthPx, into.widthPx - left);
  const rows = Math.min(luma.heightPx, into.heightPx - top);
  const { data } = into;
  for (let y = 0; y < rows; y++) {
    const lumaRow = y * luma.widthPx;
    const colourRow = Math.floor(y / down) * first.widthPx;
    let at = 3 * ((top + y) * into.widthPx + left);
    for (let x = 0; x < columns; x++, at += 3) {
      const brightness = tables.luma[luma.samples[lumaRow + x]!]!;
      const place = colourRow + (across === 1 ? x : x >> 1);
      const [u, v] = [first.samples[place]!, second.samples[place]!];
      if (tables.identity) {
        data[at] = clamp(tables.luma[v]!);
        data[at + 1] = clamp(brightness);
        data[at + 2] = clamp(tables.luma[u]!);
      } else {
        data[at] = clamp(brightness + tables.red[v]!);
        data[at + 1] = clamp(brightness + tables.greenU[u]! + tables.greenV[v]!);
        data[at + 2] = clamp(brightness + tables.blue[u]!);
      }
    }
  }
}

const clamp = (value: number): number => (value <= 0 ? 0 : value >= 255 ? 255 : Math.round(value));

interface Tables {
  identity: boolean;
  luma: Float64Array;
  red: Float64Array;
  greenU: Float64Array;
  greenV: Float64Array;
  blue: Float64Array;
}

/** What each sample adds, on the scale of 255 (ITU-T H.273, 8.3: equations of range and matrix). */
function tablesOf(
  { matrix, fullRange }: Coding,
  lumaBits: number,
  colourBits: number,
  grey: boolean,
): Tables {
  const shares = SHARES[matrix === IDENTITY || grey ? 6 : matrix];
  if (!shares) refuseUnusual('HEIC', 'a kind of colour that is not known');
  const [kr, kb] = shares;
  const kg = 1 - kr - kb;
  const unit = 2 ** (lumaBits - 8);
  const luma = Float64Array.from({ length: 2 ** lumaBits }, (_, value) =>
    fullRange ? (255 * value) / (2 ** lumaBits - 1) : (255 * (value - 16 * unit)) / (219 * unit),
  );
  const colourUnit = 2 ** (colourBits - 8);
  const colour = (factor: number): Float64Array =>
    Float64Array.from({ length: 2 ** colourBits }, (_, value) => {
      if (grey) return 0;
      const from = value - 128 * colourUnit;
      return factor * 255 * (fullRange ? from / (2 ** colourBits - 1) : from / (224 * colourUnit));
    });
  return {
    identity: matrix === IDENTITY && !grey,
    luma,
    red: colour(2 * (1 - kr)),
    greenU: colour((-2 * kb * (1 - kb)) / kg),
    greenV: colour((-2 * kr * (1 - kr)) / kg),
    blue: colour(2 * (1 - kb)),
  };
}
