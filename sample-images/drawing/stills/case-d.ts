import { PATIENT_A, SHOTS_A } from './case-a.js';
import { COLOUR } from './colours.js';
import type { Patient, Shot } from './scene.js';

/** A third tooth, for the visit whose sidecar has mistakes: another lower right first molar. */
export const PATIENT_D: Patient = {
  ...PATIENT_A,
  seed: 4677,
  dam: COLOUR.damGreen,
  ligature: true,
  stain: 1,
};

const orifices: Shot = { ...SHOTS_A.orifices, pose: { mesialDegrees: 84, parity: -1 }, seed: 71 };

export const SHOTS_D = {
  access: { ...SHOTS_A.access, pose: { mesialDegrees: 85, parity: -1 }, seed: 70 },
  orifices,
  /** The same moment with a hand that moved. */
  orificesBlurred: { ...orifices, centre: [0.5, 0.1], shakeMm: 0.16, seed: 72 },
} satisfies Record<string, Shot>;
