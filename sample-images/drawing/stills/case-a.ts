import { COLOUR } from './colours.js';
import type { FloorState } from './floor.js';
import type { Patient, Shot } from './scene.js';
import { FDI_46 } from './tooth-shapes.js';

/** Lower right first molar, FDI 46: occlusal amalgam, open distal decay; middle mesial canal joins MB. */
export const PATIENT_A: Patient = {
  shape: FDI_46,
  seed: 4601,
  dam: COLOUR.damBlue,
  ligature: false,
  amalgam: [
    [3.3, 0.2],
    [2.9, 1.2],
    [1.7, 1.25],
    [0.95, 2.3],
    [-0.1, 2.25],
    [-0.8, 1.4],
    [-2.0, 1.25],
    [-2.5, 0.1],
    [-1.9, -0.9],
    [-0.8, -1.2],
    [-0.3, -2.2],
    [0.6, -2.3],
    [1.1, -1.35],
    [2.6, -1.3],
  ],
  caries: [
    [-3.3, 0.1],
    [-3.7, 1.3],
    [-4.6, 1.9],
    [-6.2, 1.4],
    [-6.4, -0.8],
    [-5.0, -1.9],
    [-3.8, -1.1],
  ],
  cariesDepthMm: 3.0,
  buildUp: { distalOf: -3.1, halfWidth: 2.2, bottomZ: -6.0 },
  stain: 0.8,
};

/** Lower teeth are seen directly from 12 o'clock: mesial up, buccal right on the right side. */
const DIRECT = { mesialDegrees: 90, parity: -1 } as const;

export const FLOOR_A: FloorState = {
  found: ['MB', 'ML', 'D'],
  widenedMm: 0,
  troughed: false,
  remnants: 0,
  bleeding: [],
  dry: false,
};
const SHAPED: FloorState = { ...FLOOR_A, found: ['MB', 'MM', 'ML', 'D'], widenedMm: 0.28, troughed: true };
const JOINT = [FDI_46.orifices[0]!, FDI_46.orifices[1]!].map((o): [number, number] => [o.x + 0.06, o.y]);

const base = {
  pose: DIRECT,
  fieldMm: 13.5,
  centre: [0.45, 0],
  focusZ: -7.6,
  tilt: [0.05, 0.065],
  wetness: 0.8,
  exposure: 1,
  shakeMm: 0,
} as const;

export const SHOTS_A = {
  preOp: {
    ...base,
    content: { show: 'untouched' },
    pose: { mesialDegrees: 94, parity: -1 },
    fieldMm: 21.5,
    centre: [-0.9, 0.1],
    focusZ: -1.6,
    seed: 11,
  },
  access: {
    ...base,
    content: { show: 'chamber', floor: { ...FLOOR_A, remnants: 0.62 } },
    pose: { mesialDegrees: 88, parity: -1 },
    fieldMm: 17,
    centre: [0, 0.1],
    focusZ: -5,
    wetness: 1,
    seed: 12,
  },
  orifices: { ...base, content: { show: 'chamber', floor: FLOOR_A }, seed: 13 },
  troughed: {
    ...base,
    content: { show: 'chamber', floor: { ...SHAPED, widenedMm: 0.12 } },
    // lower teeth in the mirror: mesial down, buccal right as recorded; the mirror adds some rotation
    pose: { mesialDegrees: 281, parity: 1 },
    fieldMm: 10.5,
    centre: [1.0, 0],
    focusZ: -8.1,
    tilt: [-0.03, 0.05],
    seed: 15,
  },
  paste: {
    ...base,
    content: { show: 'paste', floor: SHAPED },
    fieldMm: 14.5,
    focusZ: -7,
    wetness: 0.7,
    seed: 16,
  },
  temporary: {
    ...base,
    content: { show: 'temporary' },
    pose: { mesialDegrees: 92, parity: -1 },
    fieldMm: 19.5,
    centre: [-0.6, 0],
    focusZ: -1.7,
    seed: 17,
  },
  drying: {
    ...base,
    content: { show: 'chamber', floor: { ...SHAPED, dry: true } },
    pose: { mesialDegrees: 87, parity: -1 },
    fieldMm: 13,
    wetness: 0,
    seed: 18,
  },
  obturation: {
    ...base,
    content: { show: 'filled', floor: SHAPED, filled: ['MB', 'MM', 'ML', 'D'], joint: JOINT },
    pose: { mesialDegrees: 91, parity: -1 },
    fieldMm: 13,
    focusZ: -8.1,
    wetness: 0.45,
    seed: 19,
  },
  seal: {
    ...base,
    content: { show: 'sealed', floor: SHAPED, filled: ['MB', 'MM', 'ML', 'D'], joint: JOINT },
    pose: { mesialDegrees: 90, parity: -1 },
    focusZ: -7.2,
    seed: 20,
  },
  core: {
    ...base,
    content: { show: 'core' },
    pose: { mesialDegrees: 93, parity: -1 },
    fieldMm: 19.5,
    centre: [-0.6, 0],
    focusZ: -1.7,
    seed: 21,
  },
} satisfies Record<string, Shot>;
