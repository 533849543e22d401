/** The films of the lower right first molar: decay and a lesion, lengths, cones, two films of the filled tooth. */

import { OPACITY, type Part } from './beam-scene.js';
import { LOWER_GRAIN } from './bone-grain.js';
import { simpleCanal as simple } from './canal-paths.js';
import { clampMarks } from './clamp.js';
import type { Film, FilmTooth, RegionSpot } from './film-scene.js';
import { lowerMolarCanals } from './lower-molar-canals.js';
import { beyondLower, LOWER_BONE, softLower } from './lower-surroundings.js';
import { anyOf, ball, block, decay } from './solids.js';
import {
  LOWER_FIRST_MOLAR,
  LOWER_FIRST_PREMOLAR,
  LOWER_SECOND_MOLAR,
  LOWER_SECOND_PREMOLAR,
} from './teeth-lower.js';
import type { Field } from './tooth-shape.js';

const shaft = block(0.45, 0, 3.7, 2.5, 2.0, 5.3, 1.0);
/** The access flares towards the biting surface, and its floor is the chamber's. */
const ACCESS: Field = anyOf(
  (x, y, z) => shaft(x / (1 + 0.028 * (z + 1)), y / (1 + 0.03 * (z + 1)), z),
  LOWER_FIRST_MOLAR.chamber,
);
const DISTAL_WALL: Field = block(-4.75, 0, 3.8, 1.55, 2.5, 3.7, 1.2);

export type Stage = 'before' | 'lengths' | 'cones' | 'filled';

function treatedParts(stage: Stage): Part[] {
  if (stage === 'before') {
    return [
      ...decay(-4.7, 0.2, 3.1, 2.3, 3.4, 3.1),
      ...decay(-2.9, 0, 1.5, 1.9, 2.4, 1.7),
      { field: ball(-5.2, 0.2, 4.9, 1.75, 2.7, 2.1), opacity: 0.02 },
      { field: block(2.1, 0, 5.8, 1.5, 1.4, 2.2, 0.9), opacity: OPACITY.amalgam },
      { field: block(0.4, 0, 6.2, 1.9, 1.2, 2.0, 0.9), opacity: OPACITY.amalgam },
    ];
  }
  const inside = stage === 'filled' ? OPACITY.composite : OPACITY.air;
  return [
    { field: DISTAL_WALL, opacity: OPACITY.composite },
    { field: ACCESS, opacity: inside },
  ];
}

const STATES = { before: 'found', lengths: 'files', cones: 'cones', filled: 'filled' } as const;

function teeth(stage: Stage): FilmTooth[] {
  const found = { canalState: 'found' as const, ligamentMm: 0.2 };
  return [
    {
      ...{ fdi: 46, shape: LOWER_FIRST_MOLAR, x: 0, z: 0, leanRad: 0, ligamentMm: 0.22 },
      parts: treatedParts(stage),
      canals: lowerMolarCanals(),
      canalState: STATES[stage],
      ...(stage === 'lengths' ? { worked: ['MB', 'ML', 'D'] } : {}),
    },
    {
      ...{ fdi: 47, shape: LOWER_SECOND_MOLAR, x: -11.05, z: 0.15, leanRad: 0.07, ...found },
      parts: [
        { field: block(-0.9, 0, 5.7, 1.5, 1.2, 1.6, 0.8), opacity: OPACITY.amalgam },
        { field: block(0.9, 0, 6.0, 1.8, 1.0, 1.5, 0.8), opacity: OPACITY.amalgam },
      ],
      canals: [
        simple(
          'M',
          [
            [2.1, 0, -1.7],
            [2.25, 0, -5],
            [2.35, 0, -8],
            [1.6, 0, -10.8],
            [0.4, 0, -12.7],
          ],
          2.4,
          0.7,
        ),
        simple(
          'D',
          [
            [-1.6, 0, -1.7],
            [-2.15, 0, -5],
            [-3, 0, -9],
            [-3.95, 0, -12.4],
          ],
          2.3,
          0.75,
        ),
      ],
    },
    {
      ...{ fdi: 45, shape: LOWER_SECOND_PREMOLAR, x: 9.15, z: 0.35, leanRad: 0.02, ...found },
      parts: [],
      canals: [
        simple(
          'C',
          [
            [0, 0.1, -2],
            [0, 0.1, -6],
            [-0.05, 0.1, -10],
            [-0.85, 0, -14.2],
          ],
          2.2,
          0.85,
        ),
      ],
    },
    {
      ...{ fdi: 44, shape: LOWER_FIRST_PREMOLAR, x: 16.25, z: 0.6, leanRad: -0.03, ...found },
      parts: [],
      canals: [
        simple(
          'C',
          [
            [0, 0.1, -2],
            [0, 0.1, -6],
            [-0.05, 0.1, -10],
            [-0.65, 0, -13.8],
          ],
          2.2,
          0.8,
        ),
      ],
    },
  ];
}

function regions(stage: Stage): RegionSpot[] {
  const always: RegionSpot[] = [
    { name: 'metal', at: [-10.2, 0, 5.3], radiusMm: 0.35 },
    { name: 'enamel', at: [5.0, 0, 3.6], radiusMm: 0.22 },
    { name: 'dentine', at: [4.05, 0, -3.0], radiusMm: 0.35 },
    { name: 'bone', at: [6.2, 0, -8.5], radiusMm: 1.2 },
    { name: 'lesion', at: [1.3, 0, -15.3], radiusMm: 0.7 },
    { name: 'neck', at: [0.9, 0, 1.2], radiusMm: 0.4 },
    { name: 'air', at: [5.6, 0, 7.3], radiusMm: 0.4 },
  ];
  return stage === 'filled'
    ? [...always, { name: 'gutta-percha', at: [-2.55, 0, -4.9], radiusMm: 0.25 }]
    : always;
}

interface Shot {
  name: string;
  stage: Stage;
  beamDeg: number;
  centreX: number;
  centreZ: number;
  turnDeg: number;
  seed: number;
  strength: number;
}

export const SHOTS_A: Record<string, Shot> = {
  before: {
    name: 'before',
    stage: 'before',
    beamDeg: 0,
    centreX: -0.4,
    centreZ: -4.75,
    turnDeg: 1.2,
    seed: 11,
    strength: 1,
  },
  lengths: {
    name: 'lengths',
    stage: 'lengths',
    beamDeg: 24,
    centreX: 0.2,
    centreZ: -3.6,
    turnDeg: -1.6,
    seed: 12,
    strength: 0.97,
  },
  cones: {
    name: 'cones',
    stage: 'cones',
    beamDeg: 12,
    centreX: -0.1,
    centreZ: -4.2,
    turnDeg: 0.8,
    seed: 13,
    strength: 0.98,
  },
  filled: {
    name: 'filled',
    stage: 'filled',
    beamDeg: 0,
    centreX: -0.6,
    centreZ: -4.7,
    turnDeg: -0.6,
    seed: 14,
    strength: 1.01,
  },
  filledMesial: {
    name: 'filled-mesial',
    stage: 'filled',
    beamDeg: 22,
    centreX: 0.5,
    centreZ: -4.6,
    turnDeg: 2,
    seed: 15,
    strength: 0.97,
  },
};

export function lowerMolarFilm(shot: Shot, mmPerPx = 0.03): Film {
  const clamped = shot.stage === 'lengths' || shot.stage === 'cones';
  return {
    ...{ name: shot.name, fdi: 46, upper: false, mesialSide: 1, beamDeg: shot.beamDeg, mmPerPx },
    ...{ centreX: shot.centreX, centreZ: shot.centreZ, turnDeg: shot.turnDeg },
    teeth: teeth(shot.stage),
    ...{
      bone: LOWER_BONE,
      grain: LOWER_GRAIN,
      beyond: beyondLower,
      soft: softLower,
      regions: regions(shot.stage),
      clamp: clamped,
    },
    marks: clamped ? clampMarks({ halfMd: 3.9, halfBl: 5.5, gripZ: 0.5, bowZ: 11.2, bowX: 8.6 }) : [],
    exposure: {
      seed: shot.seed,
      gradient: 14,
      gradientRad: 0.4 + shot.seed,
      noiseSd: 3.4,
      strength: shot.strength,
    },
    widthPx: Math.round(36 / mmPerPx),
    heightPx: Math.round(26.4 / mmPerPx),
  };
}
