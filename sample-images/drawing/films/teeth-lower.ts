/** Lower right back teeth as solids. Crown sizes: Wheeler tradition; heights of a lower molar: mean of 100 teeth
 *  (J Endod 2004;30): roof at the neck, floor 1.6 mm lower, furcation 3.0 mm below the floor. */
import { profile } from './profile.js';
import { anyOf, horn, molarChamber, spindle } from './solids.js';
import type { ToothShape } from './tooth-shape.js';

const straight = profile([0, 0]);

export const LOWER_FIRST_MOLAR: ToothShape = {
  name: '46',
  crown: {
    halfMd: profile(
      [-4.7, 2.6],
      [-3, 3.5],
      [-1.5, 4.15],
      [0, 4.5],
      [2, 5.05],
      [4.2, 5.5],
      [5.6, 5.3],
      [7.4, 4.5],
    ),
    halfBl: profile([-4.7, 3.2], [-2, 4.0], [0, 4.5], [2, 5.2], [3.5, 5.2], [5.5, 4.6], [7.4, 3.6]),
    centreX: straight,
    centreY: profile([0, 0], [3, 0.1], [7.4, -0.4]),
    square: 0.62,
    cusps: [
      { x: 2.4, y: 2.5, z: 7.1 },
      { x: -1.0, y: 2.6, z: 6.8 },
      { x: -3.9, y: 1.3, z: 6.2 },
      { x: 2.3, y: -2.8, z: 7.4 },
      { x: -2.2, y: -2.8, z: 7.1 },
    ],
    slope: 0.62,
    fossaZ: 4.6,
    ridges: [
      { x: 4.3, z: 6.1, halfBl: 1.8 },
      { x: -4.5, z: 5.8, halfBl: 1.4 },
    ],
    trunkZ: -4.4,
    neckRiseMm: 0.6,
    enamelSideMm: 1.35,
    enamelTopMm: 2.0,
  },
  roots: [
    {
      topZ: 0.6,
      tipZ: -13.85,
      capMm: 1.5,
      centreX: profile(
        [0, 2.25],
        [-4.4, 2.55],
        [-5.5, 3.0],
        [-8, 3.3],
        [-10, 3.12],
        [-12, 2.4],
        [-13.9, 1.35],
      ),
      centreY: straight,
      halfMd: profile(
        [0, 2.25],
        [-3.5, 2.35],
        [-4.4, 2.2],
        [-5.3, 1.8],
        [-8, 1.55],
        [-11, 1.2],
        [-12.4, 0.98],
      ),
      halfBl: profile([0, 4.3], [-4, 4.2], [-8, 3.6], [-11, 2.6], [-12.4, 1.9]),
      waist: 0.16,
    },
    {
      topZ: 0.6,
      tipZ: -14.2,
      capMm: 1.7,
      centreX: profile([0, -2.25], [-4.4, -2.5], [-5.5, -2.95], [-8, -3.45], [-11, -3.8], [-14.2, -4.25]),
      centreY: straight,
      halfMd: profile(
        [0, 2.25],
        [-3.5, 2.3],
        [-4.4, 2.15],
        [-5.3, 1.75],
        [-8, 1.6],
        [-11, 1.3],
        [-12.5, 1.02],
      ),
      halfBl: profile([0, 4.1], [-4, 3.9], [-8, 3.2], [-11, 2.3], [-12.5, 1.7]),
      waist: 0.08,
    },
  ],
  chamber: anyOf(
    molarChamber(0.35, 2.75, 2.2, 0, -1.75),
    horn(2.5, 1.6, -0.3, 1.9, 0.62),
    horn(2.5, -1.6, -0.3, 1.7, 0.6),
    horn(-1.6, 1.5, -0.3, 1.2, 0.55),
    horn(-1.6, -1.5, -0.3, 1.2, 0.55),
  ),
};

export const LOWER_SECOND_MOLAR: ToothShape = {
  name: '47',
  crown: {
    ...LOWER_FIRST_MOLAR.crown,
    halfMd: profile(
      [-4.7, 2.3],
      [-3, 3.2],
      [-1.5, 3.75],
      [0, 4.05],
      [2, 4.7],
      [4.0, 5.2],
      [5.4, 5.0],
      [7, 4.2],
    ),
    halfBl: profile([-4.7, 3.0], [-2, 4.0], [0, 4.4], [2, 5.0], [3.5, 5.0], [5.5, 4.4], [7, 3.4]),
    cusps: [
      { x: 2.3, y: 2.5, z: 6.8 },
      { x: -2.4, y: 2.5, z: 6.4 },
      { x: 2.2, y: -2.7, z: 7.0 },
      { x: -2.3, y: -2.7, z: 6.7 },
    ],
    fossaZ: 4.4,
    ridges: [
      { x: 4.0, z: 5.8, halfBl: 1.7 },
      { x: -4.1, z: 5.5, halfBl: 1.6 },
    ],
    trunkZ: -4.9,
  },
  roots: [
    {
      topZ: 0.6,
      tipZ: -12.8,
      capMm: 1.5,
      centreX: profile([0, 2.0], [-4.9, 2.1], [-6, 2.3], [-8, 2.3], [-10.5, 1.6], [-12.8, 0.3]),
      centreY: straight,
      halfMd: profile([0, 2.1], [-4.2, 2.1], [-5, 1.95], [-6, 1.65], [-9, 1.4], [-11.3, 1.0]),
      halfBl: profile([0, 4.2], [-4, 4.0], [-8, 3.2], [-11.3, 1.7]),
      waist: 0.12,
    },
    {
      topZ: 0.6,
      tipZ: -12.6,
      capMm: 1.5,
      centreX: profile([0, -2.0], [-4.9, -2.1], [-6, -2.4], [-9, -3.0], [-12.6, -4.0]),
      centreY: straight,
      halfMd: profile([0, 2.1], [-4.2, 2.1], [-5, 1.9], [-6, 1.6], [-9, 1.35], [-11.1, 1.0]),
      halfBl: profile([0, 4.0], [-4, 3.8], [-8, 2.9], [-11.1, 1.6]),
      waist: 0.08,
    },
  ],
  chamber: anyOf(
    molarChamber(0.2, 2.35, 1.9, -0.1, -1.75),
    horn(2.1, 1.4, -0.3, 1.4, 0.5),
    horn(2.1, -1.4, -0.3, 1.3, 0.5),
    horn(-1.6, 0, -0.3, 0.8, 0.6),
  ),
};

function lowerPremolar(name: string, scale: number, tipZ: number, distalTip: number): ToothShape {
  return {
    name,
    crown: {
      halfMd: profile([-3, 2.4], [0, 2.55], [2, 3.0], [4.6, 3.5], [6, 3.35], [8, 2.7]),
      halfBl: profile([-3, 3.3], [0, 3.5], [2.5, 4.0], [4.5, 3.8], [8, 2.4]),
      centreX: straight,
      centreY: profile([0, 0], [8, -0.3]),
      square: 0.35,
      cusps: [
        { x: 0.1, y: 1.4, z: 7.8 * scale },
        { x: 0.9, y: -2.1, z: 6.7 * scale },
        { x: -1.2, y: -2.0, z: 6.3 * scale },
      ],
      slope: 0.52,
      fossaZ: 5.4 * scale,
      ridges: [
        { x: 2.7, z: 6.1 * scale, halfBl: 1.0 },
        { x: -2.7, z: 5.9 * scale, halfBl: 1.0 },
      ],
      trunkZ: -3,
      neckRiseMm: 0.8,
      enamelSideMm: 1.25,
      enamelTopMm: 1.75,
    },
    roots: [
      {
        topZ: 0.6,
        tipZ,
        capMm: 1.7,
        centreX: profile([0, 0], [-8, -0.05], [tipZ + 3, -0.2 - distalTip * 0.35], [tipZ, -0.4 - distalTip]),
        centreY: straight,
        halfMd: profile([0, 2.5], [-4, 2.35], [-8, 1.95], [-11, 1.45], [tipZ + 1.7, 1.02]),
        halfBl: profile([0, 3.4], [-4, 3.1], [-8, 2.6], [-11, 1.9], [tipZ + 1.7, 1.2]),
        waist: 0,
      },
    ],
    chamber: anyOf(
      spindle(0, 0.2, -0.4, 0.72, 1.6, 2.5),
      horn(0.05, 1.2, 1, 2.9, 0.5, 0.1),
      horn(0.05, -1, 0.6, 1.7, 0.35, 0.1),
    ),
  };
}

export const LOWER_SECOND_PREMOLAR = lowerPremolar('45', 1, -14.3, 0.5);
export const LOWER_FIRST_PREMOLAR = lowerPremolar('44', 1.02, -13.9, 0.3);
