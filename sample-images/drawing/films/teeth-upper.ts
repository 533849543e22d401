/** Upper left teeth from lateral incisor to first molar as solids. Crown sizes and root lengths: Wheeler tradition. */
import { profile } from './profile.js';
import { anyOf, horn, molarChamber, spindle } from './solids.js';
import type { Crown, Root, ToothShape } from './tooth-shape.js';

const straight = profile([0, 0]);

const PREMOLAR_CROWN: Crown = {
  halfMd: profile([-5.5, 2.0], [-3, 2.3], [0, 2.5], [2, 2.95], [5, 3.5], [6.4, 3.35], [8.5, 2.6]),
  halfBl: profile([-5.5, 3.4], [-3, 3.8], [0, 4.0], [2.5, 4.5], [4.5, 4.3], [8.5, 2.9]),
  centreX: straight,
  centreY: straight,
  square: 0.35,
  cusps: [
    { x: 0.1, y: 2.7, z: 8.4 },
    { x: 0.4, y: -2.7, z: 7.4 },
  ],
  slope: 0.6,
  fossaZ: 5.7,
  ridges: [
    { x: 2.8, z: 6.5, halfBl: 1.3 },
    { x: -2.8, z: 6.3, halfBl: 1.3 },
  ],
  trunkZ: -5.3,
  neckRiseMm: 0.9,
  enamelSideMm: 1.25,
  enamelTopMm: 1.8,
};

function premolarRoot(tipZ: number, side: 1 | -1): Root {
  return {
    topZ: 0.6,
    tipZ,
    capMm: 1.5,
    centreX: profile([0, 0], [-8, 0], [-11, -0.2], [tipZ, -0.75]),
    centreY: profile([0, side * 1.9], [-6, side * 2.0], [-9, side * 2.45], [tipZ, side * 2.55]),
    halfMd: profile([0, 2.45], [-3, 2.25], [-6, 1.85], [-9, 1.5], [tipZ + 1.5, 0.98]),
    halfBl: profile([0, 2.1], [-5, 1.95], [-7, 1.6], [-10, 1.25], [tipZ + 1.5, 0.9]),
    waist: 0,
  };
}

export const UPPER_FIRST_PREMOLAR: ToothShape = {
  name: '24',
  crown: PREMOLAR_CROWN,
  roots: [premolarRoot(-12.75, 1), premolarRoot(-12.95, -1)],
  chamber: anyOf(
    spindle(0, 0, -0.6, 0.7, 2.6, 2.5),
    horn(0.1, 2.0, 0.2, 2.6, 0.5, 0.1),
    horn(0.1, -2.0, 0.1, 1.8, 0.45, 0.1),
  ),
};

export const UPPER_SECOND_PREMOLAR: ToothShape = {
  name: '25',
  crown: {
    ...PREMOLAR_CROWN,
    cusps: [
      { x: 0, y: 2.5, z: 7.9 },
      { x: 0.2, y: -2.5, z: 7.6 },
    ],
    trunkZ: -3,
  },
  roots: [
    {
      topZ: 0.6,
      tipZ: -13.9,
      capMm: 1.6,
      centreX: profile([0, 0], [-8, -0.1], [-11, -0.5], [-13.9, -1.3]),
      centreY: straight,
      halfMd: profile([0, 2.45], [-4, 2.2], [-8, 1.8], [-11, 1.4], [-12.3, 1.02]),
      halfBl: profile([0, 3.9], [-4, 3.6], [-8, 2.9], [-11, 2.0], [-12.3, 1.3]),
      waist: 0.1,
    },
  ],
  chamber: anyOf(spindle(0, 0, -0.6, 0.7, 2.3, 2.4), horn(0, 1.8, 0.2, 2.3, 0.45, 0.1)),
};

export const UPPER_CANINE: ToothShape = {
  name: '23',
  crown: {
    halfMd: profile([-4, 2.4], [0, 2.75], [2, 3.1], [5.5, 3.7], [7, 3.4], [9, 2.0], [10, 1.0]),
    halfBl: profile([-4, 3.2], [0, 3.5], [2.5, 4.0], [5, 3.1], [8, 1.8], [10, 0.9]),
    centreX: straight,
    centreY: profile([0, 0], [5, 0.6], [10, 1.2]),
    square: 0.15,
    cusps: [{ x: 0.3, y: 1.2, z: 10 }],
    slope: 0.62,
    fossaZ: 7.6,
    ridges: [],
    trunkZ: -3.5,
    neckRiseMm: 1.5,
    enamelSideMm: 1.1,
    enamelTopMm: 1.6,
  },
  roots: [
    {
      topZ: 0.6,
      tipZ: -16.9,
      capMm: 1.8,
      centreX: profile([0, 0], [-9, -0.1], [-13, -0.5], [-17, -1.4]),
      centreY: straight,
      halfMd: profile([0, 2.7], [-5, 2.45], [-10, 1.95], [-13.5, 1.4], [-15.1, 1.0]),
      halfBl: profile([0, 3.5], [-5, 3.5], [-10, 2.8], [-13.5, 1.8], [-15.1, 1.3]),
      waist: 0,
    },
  ],
  chamber: anyOf(spindle(0, 0.1, -0.5, 0.75, 1.3, 4.2), horn(0, 0.3, 1, 5.2, 0.5, 0.2)),
};

export const UPPER_LATERAL: ToothShape = {
  name: '22',
  crown: {
    ...UPPER_CANINE.crown,
    halfMd: profile([-4, 2.0], [0, 2.3], [2, 2.6], [6, 3.2], [9, 3.0]),
    halfBl: profile([-4, 2.3], [0, 2.6], [2, 3.0], [5, 2.0], [9, 0.8]),
    cusps: [
      { x: 1.8, y: 1, z: 8.8 },
      { x: -1.6, y: 1, z: 8.6 },
    ],
    slope: 0.3,
  },
  roots: [
    {
      ...UPPER_CANINE.roots[0]!,
      tipZ: -13,
      capMm: 1.6,
      centreX: profile([0, 0], [-9, -0.2], [-11, -0.7], [-13, -1.6]),
      halfMd: profile([0, 2.2], [-5, 1.95], [-9, 1.5], [-11.4, 0.95]),
      halfBl: profile([0, 2.6], [-5, 2.5], [-9, 1.9], [-11.4, 1.1]),
    },
  ],
  chamber: spindle(0, 0, 0.6, 0.65, 0.9, 4.6),
};

export const UPPER_FIRST_MOLAR: ToothShape = {
  name: '26',
  crown: {
    halfMd: profile([-4.4, 1.6], [-2, 3.5], [0, 4.0], [2, 4.5], [4.4, 5.0], [5.6, 4.85], [7.4, 4.1]),
    halfBl: profile([-4.4, 2.0], [-2, 4.4], [0, 5.0], [2.5, 5.5], [4.5, 5.1], [7.4, 3.9]),
    centreX: straight,
    centreY: straight,
    square: 0.6,
    cusps: [
      { x: 2.2, y: 3.0, z: 7.2 },
      { x: -2.1, y: 2.8, z: 6.8 },
      { x: 1.5, y: -2.9, z: 7.4 },
      { x: -2.6, y: -3.0, z: 6.1 },
    ],
    slope: 0.6,
    fossaZ: 4.7,
    ridges: [
      { x: 4.0, z: 6.0, halfBl: 2 },
      { x: -4.0, z: 5.7, halfBl: 2 },
    ],
    trunkZ: -4.2,
    neckRiseMm: 0.6,
    enamelSideMm: 1.3,
    enamelTopMm: 2.0,
  },
  roots: [
    {
      ...{ topZ: 0.6, tipZ: -12.2, capMm: 1.4, waist: 0.1 },
      centreX: profile([0, 1.9], [-4.2, 2.2], [-7, 2.5], [-10, 2.2], [-12.2, 1.2]),
      centreY: profile([0, 2.3], [-6, 2.7], [-12.2, 3.2]),
      halfMd: profile([0, 2.0], [-4.2, 1.9], [-6, 1.6], [-9, 1.3], [-10.8, 0.9]),
      halfBl: profile([0, 2.7], [-5, 2.6], [-9, 2.0], [-10.8, 1.3]),
    },
    {
      ...{ topZ: 0.6, tipZ: -11.8, capMm: 1.4, waist: 0 },
      centreX: profile([0, -2.0], [-4.2, -2.2], [-8, -2.8], [-11.8, -2.7]),
      centreY: profile([0, 2.0], [-6, 2.4], [-11.8, 2.6]),
      halfMd: profile([0, 1.9], [-4.2, 1.8], [-6, 1.5], [-9, 1.2], [-10.4, 0.9]),
      halfBl: profile([0, 2.5], [-5, 2.1], [-9, 1.5], [-10.4, 1.1]),
    },
    {
      ...{ topZ: 0.6, tipZ: -13.2, capMm: 1.6, waist: 0 },
      centreX: profile([0, 0], [-13.2, -0.3]),
      centreY: profile([0, -2.4], [-6, -3.4], [-13.2, -4.6]),
      halfMd: profile([0, 3.0], [-4.2, 2.5], [-8, 1.9], [-11.6, 1.2]),
      halfBl: profile([0, 2.6], [-5, 2.0], [-9, 1.6], [-11.6, 1.1]),
    },
  ],
  chamber: anyOf(
    molarChamber(0, 2.0, 2.6, -0.1, -1.9),
    horn(1.7, 2.2, -0.3, 1.5, 0.5),
    horn(-1.6, 1.9, -0.3, 1.0, 0.45),
  ),
};
