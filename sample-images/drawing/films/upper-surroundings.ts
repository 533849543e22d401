/** Bone, lesion, sinus floor and gum around the upper left premolars. */
import type { Bone } from './beam-scene.js';
import { profile } from './profile.js';
import { fadedBall } from './solids.js';

const crest = profile(
  [-22, -1.6],
  [-16, -2.4],
  [-10.9, -1.3],
  [-7, -2.2],
  [-3.5, -1.2],
  [0, -2.3],
  [3.7, -1.6],
  [7.4, -3],
  [11.2, -1.2],
  [14.4, -2],
  [20, -0.8],
);
const halfBl = profile([0, 2.9], [0.7, 3.7], [2, 4.4], [5, 5.2], [12, 5.7], [18, 5.9]);
const sinusZ = profile(
  [-22, -11.6],
  [-18.5, -10.2],
  [-15.5, -11.4],
  [-13, -11.0],
  [-10.5, -11.6],
  [-7.5, -14.7],
  [-4, -15.0],
  [-1, -16.2],
  [3, -18.5],
  [8, -22],
);

/** Height over the sinus floor, mm; negative inside the sinus (further from the teeth). */
function overSinus(x: number, z: number): number {
  return z - sinusZ(x) - 0.12 * Math.sin(x * 1.9) - 0.08 * Math.sin(x * 4.3 + 1);
}

/** How deep in the sinus a place lies, 0 at its floor to 1. */
function inSinus(x: number, z: number): number {
  return 1 / (1 + Math.exp(overSinus(x, z) / 0.13));
}

const lesion = fadedBall(-0.7, -13.45, 2.15, 5.6, 1.9);

export const UPPER_BONE: Bone = {
  crestZ: crest,
  halfBlMm: halfBl,
  corticalMm: 0.95,
  kept: (x, y, z) => (z < -9 ? (z < -11 ? lesion(x, y, z) : 1) * (1 - 0.92 * inSinus(x, z)) : 1),
  laminaKept: (x, _y, z) => (z < -11 ? lesion(x, 0, z) : 1),
};

/** The thin white line of the sinus floor. */
export function beyondUpper(x: number, z: number): number {
  if (z > -8) return 0;
  const line = Math.exp(-(((overSinus(x, z) + 0.26) / 0.17) ** 2));
  return 3.1 * line * (0.8 + 0.2 * Math.sin(x * 0.9));
}

const gum = profile(
  [-22, 1.4],
  [-16, 0.9],
  [-10.9, 2.6],
  [-7, 1],
  [-3.5, 2.9],
  [0, 0.9],
  [3.7, 2.8],
  [7.4, 0.4],
  [11.2, 2.8],
  [14.4, 0.6],
  [20, 2.6],
);

export function softUpper(x: number, z: number): number {
  const inside = 1 / (1 + Math.exp((z - gum(x)) / 0.22));
  return 0.2 + 1.3 * inside + 0.35 / (1 + Math.exp((z - 2) / 1.5));
}
