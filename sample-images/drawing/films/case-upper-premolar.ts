/** The films of the upper left first premolar: two roots one behind the other, apart when the tube moves. */
import { CASE_B } from '../case-facts.js';
import { OPACITY, type Part } from './beam-scene.js';
import { UPPER_GRAIN } from './bone-grain.js';
import { type CanalShape, measureCanal, simpleCanal } from './canal-paths.js';
import { clampMarks } from './clamp.js';
import type { Film, FilmTooth, RegionSpot } from './film-scene.js';
import { anyOf, ball, block, decay } from './solids.js';
import {
  UPPER_CANINE,
  UPPER_FIRST_MOLAR,
  UPPER_FIRST_PREMOLAR,
  UPPER_LATERAL,
  UPPER_SECOND_PREMOLAR,
} from './teeth-upper.js';
import type { Field } from './tooth-shape.js';
import { beyondUpper, softUpper, UPPER_BONE } from './upper-surroundings.js';

const B: CanalShape = {
  name: 'B',
  points: [
    [0, 1.5, -2.3],
    [0, 1.75, -5],
    [0, 2.2, -8],
    [-0.18, 2.5, -10.6],
    [-0.62, 2.58, -12.55],
  ],
  handleXy: [0.2, 1.1],
  widthMm: [0.6, 0.22],
  flat: 1.7,
  shapedMm: [0.95, 0.32],
  shortMm: 0.6,
  lengthMm: CASE_B.canals.B,
};

const P: CanalShape = {
  ...B,
  name: 'P',
  points: [
    [0, -1.5, -2.3],
    [0, -1.75, -5],
    [0, -2.2, -8],
    [-0.18, -2.5, -10.6],
    [-0.66, -2.58, -12.75],
  ],
  handleXy: [0.2, -1.1],
  shortMm: 0.8,
  lengthMm: CASE_B.canals.P,
};

export type StageB = 'before' | 'lengths' | 'filled';

const STATES = { before: 'found', lengths: 'files', filled: 'filled' } as const;
const slot = block(0, 0, 3.6, 0.8, 2.2, 5.6, 0.6);
/** The access flares a little towards the biting surface. */
const ACCESS: Field = anyOf(
  (x, y, z) => slot(x / (1 + 0.055 * Math.max(0, z)), y / (1 + 0.02 * Math.max(0, z)), z),
  UPPER_FIRST_PREMOLAR.chamber,
);

function treatedParts(stage: StageB): Part[] {
  if (stage === 'before') {
    return [
      ...decay(-2.5, 0, 1.2, 1.35, 2.4, 1.25),
      { field: block(-0.5, 0, 7.0, 2.1, 1.2, 1.8, 1.0), opacity: OPACITY.amalgam },
      { field: block(-3.1, 0, 4.6, 1.25, 1.9, 3.0, 0.95), opacity: OPACITY.amalgam },
      { field: ball(-3.4, 0.2, 1.55, 0.55, 1.6, 0.6), opacity: 0.05 },
    ];
  }
  return [
    { field: block(-2.9, 0, 4.2, 0.95, 2.5, 4, 0.5), opacity: OPACITY.composite },
    { field: ACCESS, opacity: stage === 'filled' ? OPACITY.composite : OPACITY.air },
  ];
}

function teeth(stage: StageB): FilmTooth[] {
  const found = { canalState: 'found' as const, ligamentMm: 0.2, parts: [] as Part[] };
  return [
    {
      ...{ fdi: 24, shape: UPPER_FIRST_PREMOLAR, x: 0, z: 0, leanRad: 0, ligamentMm: 0.22 },
      parts: treatedParts(stage),
      canals: [measureCanal(B), measureCanal(P)],
      canalState: STATES[stage],
    },
    {
      ...{ fdi: 23, shape: UPPER_CANINE, x: 7.35, z: -0.7, leanRad: 0.05, ...found },
      canals: [
        simpleCanal(
          'C',
          [
            [0, 0, -4.1],
            [0, 0, -8],
            [-0.15, 0, -12],
            [-1.2, 0, -16.7],
          ],
          2.2,
          0.95,
        ),
      ],
    },
    {
      ...{ fdi: 25, shape: UPPER_SECOND_PREMOLAR, x: -7.1, z: 0.1, leanRad: 0.02, ...found },
      canals: [
        simpleCanal(
          'C',
          [
            [0, 0, -2.4],
            [0, 0, -6],
            [-0.1, 0, -9],
            [-1.15, 0, -13.7],
          ],
          2.8,
          0.8,
        ),
      ],
    },
    {
      ...{ fdi: 26, shape: UPPER_FIRST_MOLAR, x: -15.75, z: 0.3, leanRad: 0.04, ...found },
      parts: [{ field: block(0.6, 0, 6.0, 2.2, 1.6, 1.7, 0.8), opacity: OPACITY.amalgam }],
      canals: [
        simpleCanal(
          'MB1',
          [
            [1.7, 2.4, -1.8],
            [2.2, 2.6, -5],
            [2.4, 2.9, -8],
            [1.3, 3.2, -12],
          ],
          2,
          0.6,
        ),
        simpleCanal(
          'DB',
          [
            [-1.6, 2.0, -1.8],
            [-2.2, 2.3, -5],
            [-2.75, 2.6, -11.6],
          ],
          1.4,
          0.6,
        ),
        simpleCanal(
          'P',
          [
            [0, -2.4, -1.8],
            [0, -3.4, -6],
            [-0.2, -4.6, -13],
          ],
          1.2,
          0.95,
        ),
      ],
    },
    {
      ...{ fdi: 22, shape: UPPER_LATERAL, x: 14.4, z: 0.2, leanRad: 0.08, ...found },
      canals: [
        simpleCanal(
          'C',
          [
            [0, 0, -2],
            [0, 0, -6],
            [-0.25, 0, -9.5],
            [-1.4, 0, -12.8],
          ],
          1.5,
          0.8,
        ),
      ],
    },
  ];
}

function regions(stage: StageB): RegionSpot[] {
  const always: RegionSpot[] = [
    { name: 'metal', at: [-15.1, 0, 6.0], radiusMm: 0.4 },
    { name: 'enamel', at: [2.8, 0, 4.6], radiusMm: 0.16 },
    { name: 'dentine', at: [1.55, 0, -3.4], radiusMm: 0.3 },
    { name: 'bone', at: [3.6, 0, -8.5], radiusMm: 0.9 },
    { name: 'lesion', at: [-0.75, 0, -13.75], radiusMm: 0.4 },
    { name: 'sinus', at: [-13.4, 0, -14.2], radiusMm: 0.6 },
    { name: 'neck', at: [0.6, 0, 1.2], radiusMm: 0.4 },
    { name: 'air', at: [3.6, 0, 8.2], radiusMm: 0.3 },
  ];
  return stage === 'filled'
    ? [...always, { name: 'gutta-percha', at: [0, 0, -4.2], radiusMm: 0.22 }]
    : always;
}

export interface ShotB {
  name: string;
  stage: StageB;
  beamDeg: number;
  centreX: number;
  centreZ: number;
  turnDeg: number;
  seed: number;
  strength: number;
}

export const SHOTS_B: Record<string, ShotB> = {
  before: {
    name: 'before',
    stage: 'before',
    beamDeg: 0,
    centreX: -2.6,
    centreZ: -3.7,
    turnDeg: -1,
    seed: 21,
    strength: 1,
  },
  lengths: {
    name: 'lengths',
    stage: 'lengths',
    beamDeg: 18,
    centreX: -2.2,
    centreZ: -3.2,
    turnDeg: 1.4,
    seed: 22,
    strength: 0.97,
  },
  filled: {
    name: 'filled',
    stage: 'filled',
    beamDeg: 0,
    centreX: -2.8,
    centreZ: -3.6,
    turnDeg: 0.5,
    seed: 23,
    strength: 1.01,
  },
};

export function upperPremolarFilm(shot: ShotB, mmPerPx = 0.03): Film {
  const clamped = shot.stage === 'lengths';
  return {
    ...{ name: shot.name, fdi: 24, upper: true, mesialSide: -1, beamDeg: shot.beamDeg, mmPerPx },
    ...{ centreX: shot.centreX, centreZ: shot.centreZ, turnDeg: shot.turnDeg },
    teeth: teeth(shot.stage),
    ...{
      bone: UPPER_BONE,
      grain: UPPER_GRAIN,
      beyond: beyondUpper,
      soft: softUpper,
      regions: regions(shot.stage),
      clamp: clamped,
    },
    marks: clamped ? clampMarks({ halfMd: 2.7, halfBl: 4.8, gripZ: 0.4, bowZ: 11.5, bowX: 7.0 }) : [],
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
