/**
 * The grain of spongy bone: several sheets of struts at different depths, seen one through the other.
 * Lower jaw: coarse, struts mostly horizontal; upper jaw: fine and even. Mean about 0, sd about 1.
 */
import { cellBorder, layeredNoise, smoothNoise } from '../noise.js';

export interface Grain {
  /** Size of the marrow spaces, mm. */
  spaceMm: number;
  /** Width of spaces in units of their height. */
  wide: number;
  sheets: number;
  seed: number;
}

export const LOWER_GRAIN: Grain = { spaceMm: 1.15, wide: 1.55, sheets: 4, seed: 4601 };
export const UPPER_GRAIN: Grain = { spaceMm: 0.72, wide: 1.1, sheets: 4, seed: 2401 };

/** One sheet: walls between cells, bent by a slow warp, thinning out here and there. */
function sheet(x: number, z: number, grain: Grain, index: number): number {
  const seed = grain.seed + index * 101;
  const size = grain.spaceMm * (0.75 + 0.28 * index);
  const warpX = smoothNoise(x / (size * 1.7), z / (size * 1.7), seed + 1) * size * 0.55;
  const warpZ = smoothNoise(x / (size * 1.9), z / (size * 1.5), seed + 2) * size * 0.45;
  const border = cellBorder((x + warpX) / (size * grain.wide), (z + warpZ) / size, seed);
  const presence = 0.62 + 0.55 * smoothNoise(x / (size * 2.3), z / (size * 2.1), seed + 3);
  const strut = Math.exp(-((border / 0.24) ** 2));
  return strut * Math.max(0.05, presence) - 0.24;
}

/** Strength of the grain at a place of the film; the sheets shift against each other when the tube moves. */
export function boneGrain(x: number, z: number, shear: number, grain: Grain): number {
  let sum = 0;
  for (let index = 0; index < grain.sheets; index++) {
    const depthMm = (index - (grain.sheets - 1) / 2) * 1.9;
    sum += sheet(x + depthMm * shear, z, grain, index) * (1.15 - 0.12 * index);
  }
  const fine = layeredNoise(x / 0.42, z / 0.34, 2, grain.seed + 900);
  const clouds = layeredNoise(x / 4.2, z / 3.4, 2, grain.seed + 950);
  return sum * 1.75 + fine * 0.75 + clouds * 0.9;
}
