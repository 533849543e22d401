/** Bone, lesions, mandibular canal and gum around the lower right molars. */
import type { Bone } from './beam-scene.js';
import { profile } from './profile.js';
import { fadedBall } from './solids.js';

const LESION = { x: 1.3, z: -14.3 };
const mesialLoss = fadedBall(LESION.x, LESION.z, 2.75, 4.9, 2.65);
const distalLoss = fadedBall(-4.0, -13.0, 1.62, 2.6, 1.8);

const crest = profile(
  [-20, 0.6],
  [-17, -1.1],
  [-14, -1.8],
  [-11, -2.1],
  [-7.2, -1.75],
  [-5, -1.5],
  [0, -2.4],
  [4.6, -1.25],
  [6.2, -1.45],
  [9, -2.0],
  [12.6, -0.95],
  [16, -1.2],
  [20, -0.7],
);
const halfBl = profile([0, 2.9], [0.7, 3.7], [2, 4.5], [5, 5.1], [12, 5.2], [18, 5.3]);

export const LOWER_BONE: Bone = {
  crestZ: crest,
  halfBlMm: halfBl,
  corticalMm: 1.15,
  kept: (x, y, z) => (z < -11 ? mesialLoss(x, y, z) * distalLoss(x, y, z) : 1),
  laminaKept: (x, _y, z) => (z < -11 ? mesialLoss(x, 0, z) * distalLoss(x, 0, z) : 1),
};

const nerveZ = profile([-20, -15.6], [-17, -16.3], [-13, -17.2], [-8, -18.3], [0, -19.5]);

/** The mandibular canal below the molars and the ridge in front of the ramus. */
export function beyondLower(x: number, z: number): number {
  const off = Math.abs(z - nerveZ(x));
  const tunnel = off < 3 ? -0.85 / (1 + Math.exp((off - 1.25) / 0.15)) : 0;
  const wall = 0.55 * Math.exp(-(((off - 1.5) / 0.22) ** 2));
  const ridge =
    (0.9 * Math.exp(-(((z + 3.2 - 0.55 * (-12 - x)) / 2.4) ** 2))) / (1 + Math.exp((x + 13) / 1.6));
  return z < -12 ? tunnel + wall : ridge;
}

const gum = profile(
  [-20, 3.6],
  [-16, 2.4],
  [-11, 1.2],
  [-5.5, 2.9],
  [0, 1.2],
  [5.7, 3.0],
  [9, 1.4],
  [12.8, 3.4],
  [16, 1.8],
  [20, 3.4],
);

export function softLower(x: number, z: number): number {
  const inside = 1 / (1 + Math.exp((z - gum(x)) / 0.22));
  return 0.2 + 1.35 * inside + 0.35 / (1 + Math.exp((z - 2) / 1.5));
}
