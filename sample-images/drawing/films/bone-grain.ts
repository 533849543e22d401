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
  /** How much of the bone the grain takes and gives. */
  strength: number;
  seed: number;
}

export const LOWER_GRAIN: Grain = { spaceMm: 1.05, wide: 1.5, sheets: 4, strength: 0.5, seed: 4601 };
export const UPPER_GRAIN: Grain = { spaceMm: 0.66, wide: 1.1, sheets: 4, strength: 0.38, seed: 2401 };

/** One sheet of struts: strands that branch and end, over a weak net of cell walls. */
function sheet(x: number, z: number, grain: Grain, index: number): number {
  const seed = grain.seed + index * 101;
  const size = grain.spaceMm * (0.7 + 0.22 * index);
  const warpX = layeredNoise(x / (size * 1.6), z / (size * 1.6), 2, seed + 1) * size * 0.9;
  const warpZ = layeredNoise(x / (size * 1.8), z / (size * 1.4), 2, seed + 2) * size * 0.7;
  const u = (x + warpX) / (size * grain.wide);
  const v = (z + warpZ) / size;
  const strand = (1 - Math.min(1, Math.abs(smoothNoise(u * 0.85, v * 0.85, seed + 5)) * 2.4)) ** 2;
  const wall = Math.exp(-((cellBorder(u, v, seed) / 0.34) ** 2));
  const presence = 0.5 + 0.75 * smoothNoise(x / (size * 1.5), z / (size * 1.3), seed + 3);
  return strand * Math.max(0, 1.1 - presence) * 0.9 + wall * Math.max(0.04, presence) - 0.42;
}

/** Strength of the grain at a place of the film; the sheets shift against each other when the tube moves. */
export function boneGrain(x: number, z: number, shear: number, grain: Grain): number {
  let sum = 0;
  for (let index = 0; index < grain.sheets; index++) {
    const depthMm = (index - (grain.sheets - 1) / 2) * 1.9;
    sum += sheet(x + depthMm * shear, z, grain, index);
  }
  const fine = layeredNoise(x / 0.5, z / 0.38, 3, grain.seed + 900);
  const clouds = layeredNoise(x / 4.6, z / 3.6, 2, grain.seed + 950);
  return (sum * 1.25 + fine * 1.0 + clouds * 0.9) * grain.strength;
}
