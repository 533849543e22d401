/** From millimetres of aluminium to grey, and what a digital sensor adds: blur, veil, edge lift, noise. */
import { blankRaster, blurred, type Raster, widelyBlurred } from '../raster.js';
import { normalHash } from '../seeded.js';
import { profile } from './profile.js';

/** Grey (0-255, white = opaque) over mm Al. Flattens at both ends as a sensor with a log table does. */
const GREY = profile(
  [0, 7],
  [1, 14],
  [2, 34],
  [3.2, 58],
  [4.5, 84],
  [6, 103],
  [8, 125],
  [10, 148],
  [12, 174],
  [14, 199],
  [17, 220],
  [22, 236],
  [30, 244],
  [45, 251],
  [80, 253],
);

export interface Exposure {
  seed: number;
  /** Grey of the slow gradient from corner to corner. */
  gradient: number;
  /** Direction of it, radians. */
  gradientRad: number;
  noiseSd: number;
  /** Multiplies mm Al: above 1 is a lighter picture. */
  strength: number;
}

/** Grey at full precision (0-255, not rounded). */
export function expose(aluminium: Raster, exposure: Exposure): Raster {
  const { widthPx, heightPx } = aluminium;
  const grey = blankRaster(widthPx, heightPx);
  for (let i = 0; i < grey.data.length; i++) grey.data[i] = GREY(aluminium.data[i]! * exposure.strength);
  const soft = blurred(grey, 1.15);
  const wide = widelyBlurred(soft, 60);
  const local = blurred(soft, 4);
  const noise = sensorNoise(widthPx, heightPx, exposure);
  const cos = Math.cos(exposure.gradientRad);
  const sin = Math.sin(exposure.gradientRad);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      const lifted = soft.data[at]! + 0.22 * (soft.data[at]! - local.data[at]!);
      const veiled = 0.95 * lifted + 0.05 * wide.data[at]!;
      const slope = (x / widthPx - 0.5) * cos + (y / heightPx - 0.5) * sin;
      const value =
        veiled + exposure.gradient * slope * (0.3 + 0.7 * Math.min(1, veiled / 128)) + noise.data[at]!;
      grey.data[at] = Math.min(254.5, Math.max(0.5, value));
    }
  }
  return grey;
}

/** Photon grain with a little reach between neighbours, and faint readout columns. */
function sensorNoise(widthPx: number, heightPx: number, exposure: Exposure): Raster {
  const raw = blankRaster(widthPx, heightPx);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      raw.data[y * widthPx + x] = normalHash(x, y, 3, exposure.seed);
    }
  }
  const grain = blurred(raw, 0.62);
  const scale = exposure.noiseSd * 2.1;
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      grain.data[at] = grain.data[at]! * scale + 0.35 * normalHash(x, 0, 5, exposure.seed);
    }
  }
  return grain;
}
