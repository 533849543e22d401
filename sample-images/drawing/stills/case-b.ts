import { COLOUR } from './colours.js';
import type { FloorState } from './floor.js';
import type { Patient, Shot } from './scene.js';
import { FDI_24 } from './tooth-shapes.js';

/** Upper left first premolar, FDI 24: old occlusal-distal amalgam, vital inflamed pulp. */
export const PATIENT_B: Patient = {
  shape: FDI_24,
  seed: 2402,
  dam: COLOUR.damGreen,
  ligature: true,
  amalgam: [
    [1.9, 0.1],
    [1.4, 0.8],
    [0.0, 0.75],
    [-1.4, 1.0],
    [-2.2, 1.6],
    [-3.9, 1.6],
    [-3.9, -1.4],
    [-2.2, -1.4],
    [-1.3, -0.9],
    [0.1, -0.7],
    [1.4, -0.6],
  ],
  caries: [
    [-2.3, 1.45],
    [-2.6, 1.95],
    [-3.5, 2.05],
    [-3.7, 1.55],
    [-3.0, 1.4],
  ],
  cariesDepthMm: 0.9,
  buildUp: { distalOf: -1.9, halfWidth: 1.3, bottomZ: -5.6 },
  stain: 0.55,
};

/** Upper teeth are seen in the mirror from 12 o'clock: mesial up, buccal left on the left side, as recorded. */
const MIRROR = { mesialDegrees: 90, parity: 1 } as const;

const FLOOR_B: FloorState = {
  found: ['B', 'P'],
  widenedMm: 0,
  troughed: false,
  remnants: 0,
  bleeding: [],
  dry: false,
};
const SHAPED: FloorState = { ...FLOOR_B, widenedMm: 0.26 };

const base = {
  pose: MIRROR,
  fieldMm: 15.5,
  centre: [0, 0],
  focusZ: -7.6,
  tilt: [-0.05, 0.06],
  wetness: 0.8,
  exposure: 1,
  shakeMm: 0,
} as const;

export const SHOTS_B = {
  preOp: {
    ...base,
    content: { show: 'untouched' },
    pose: { mesialDegrees: 97, parity: 1 },
    fieldMm: 17.5,
    centre: [-0.8, 0],
    focusZ: -1.6,
    seed: 41,
  },
  access: {
    ...base,
    content: { show: 'chamber', floor: { ...FLOOR_B, bleeding: ['P'] } },
    pose: { mesialDegrees: 84, parity: 1 },
    fieldMm: 13,
    focusZ: -7.2,
    wetness: 1,
    seed: 42,
  },
  orifices: { ...base, content: { show: 'chamber', floor: SHAPED }, fieldMm: 10.5, seed: 43 },
  obturation: {
    ...base,
    content: { show: 'filled', floor: SHAPED, filled: ['B', 'P'], joint: [] },
    pose: { mesialDegrees: 88, parity: 1 },
    fieldMm: 10.5,
    focusZ: -8,
    wetness: 0.45,
    seed: 44,
  },
  core: {
    ...base,
    content: { show: 'core' },
    pose: { mesialDegrees: 93, parity: 1 },
    fieldMm: 15.5,
    centre: [-0.5, 0],
    focusZ: -1.7,
    seed: 45,
  },
} satisfies Record<string, Shot>;
