import type { Spot } from './outline.js';

/**
 * The two teeth of the samples, in the tooth frame: x mesial, y buccal, mm, origin at the centre of the crown outline;
 * z up to the eye, 0 at the highest cusp tip. Crown and neck sizes are the usual textbook means, orifice positions
 * means for the tooth; the ridges of the crown are drawn by eye.
 */
export interface Orifice {
  canal: string;
  x: number;
  y: number;
  /** Width mesiodistally and buccolingually, mm, as found. */
  widthMd: number;
  widthBl: number;
  /** mm per mm of depth the canal leans to mesial and buccal, on its way up to the eye reversed. */
  lean: readonly [number, number];
}

/** A crest between two spots; the crown is the soft maximum of all crests of all cusps. */
export interface Crest {
  cusp: number;
  from: Spot;
  to: Spot;
  zFrom: number;
  zTo: number;
}

export interface ToothShape {
  fdi: number;
  crownMd: number;
  crownBl: number;
  outline: readonly Spot[];
  neck: { md: number; bl: number };
  crests: readonly Crest[];
  /** Fall of the cusp slopes, mm per mm. */
  slope: number;
  orifices: readonly Orifice[];
  /** Developmental lines of the floor, each ending in orifices. */
  grooves: readonly (readonly Spot[])[];
  roofZ: number;
  floorZ: number;
}

/** A cusp: its tip, the triangular ridge down to the middle, and two arms along the rim. */
const cusp = (
  number: number,
  tip: readonly [number, number, number],
  inner: readonly [number, number, number],
  arms: readonly (readonly [number, number, number])[],
): Crest[] =>
  [inner, ...arms].map((end) => ({
    cusp: number,
    from: [tip[0], tip[1]],
    to: [end[0], end[1]],
    zFrom: tip[2],
    zTo: end[2],
  }));

const MIDDLE: Spot = [2.58, 0.05];

export const FDI_46: ToothShape = {
  fdi: 46,
  crownMd: 11,
  crownBl: 10.5,
  // five-sided, wider on the mesial; slight dents at the buccal and lingual grooves
  outline: [
    [5.5, 0.2],
    [5.3, 2.6],
    [4.3, 4.6],
    [2.3, 5.3],
    [0.5, 4.98],
    [-1.5, 5.1],
    [-3.5, 4.3],
    [-5.0, 2.5],
    [-5.5, 0.3],
    [-5.2, -1.9],
    [-4.3, -3.9],
    [-2.5, -4.95],
    [-0.3, -4.78],
    [1.9, -5.22],
    [3.9, -4.75],
    [5.1, -2.9],
  ],
  neck: { md: 9, bl: 9 },
  slope: 0.8,
  crests: [
    ...cusp(
      0,
      [2.7, 3.2, -0.25],
      [0.75, 0.6, -2.35],
      [
        [4.4, 2.2, -1.0],
        [1.0, 3.4, -0.95],
      ],
    ),
    ...cusp(
      1,
      [-1.3, 3.25, -0.45],
      [-0.45, 0.7, -2.35],
      [
        [0.2, 3.5, -1.0],
        [-2.5, 3.1, -1.05],
      ],
    ),
    ...cusp(
      2,
      [-3.8, 1.7, -0.95],
      [-1.6, 0.35, -2.35],
      [
        [-3.2, 2.6, -1.25],
        [-4.5, 0.6, -1.35],
      ],
    ),
    ...cusp(
      3,
      [2.6, -3.2, 0],
      [0.65, -0.6, -2.35],
      [
        [4.3, -2.3, -0.9],
        [0.8, -3.5, -0.85],
      ],
    ),
    ...cusp(
      4,
      [-2.3, -3.1, -0.1],
      [-0.75, -0.6, -2.35],
      [
        [-0.5, -3.4, -0.85],
        [-4.0, -2.4, -0.9],
      ],
    ),
    { cusp: 5, from: [4.55, 1.7], to: [4.55, -1.8], zFrom: -1.1, zTo: -1.05 },
    { cusp: 6, from: [-4.6, 0.4], to: [-4.4, -1.9], zFrom: -1.3, zTo: -1.1 },
  ],
  orifices: [
    { canal: 'MB', x: 2.5, y: 1.55, widthMd: 0.62, widthBl: 0.7, lean: [0.1, 0.09] },
    { canal: 'MM', x: 2.5, y: 0.05, widthMd: 0.34, widthBl: 0.38, lean: [0.08, 0.02] },
    { canal: 'ML', x: 2.5, y: -1.55, widthMd: 0.62, widthBl: 0.68, lean: [0.1, -0.07] },
    { canal: 'D', x: -1.8, y: 0, widthMd: 0.8, widthBl: 1.95, lean: [-0.1, 0] },
  ],
  grooves: [
    [[2.5, 1.55], [2.6, 0.9], MIDDLE, [2.62, -0.8], [2.5, -1.55]],
    [MIDDLE, [1.7, 0.14], [0.6, -0.07], [-0.6, 0.1], [-1.8, 0]],
  ],
  roofZ: -6.4,
  floorZ: -8,
};

export const FDI_24: ToothShape = {
  fdi: 24,
  crownMd: 7,
  crownBl: 9,
  outline: [
    [3.3, 0.1],
    [3.5, 1.7],
    [2.75, 3.45],
    [1.1, 4.45],
    [-0.9, 4.48],
    [-2.7, 3.5],
    [-3.5, 1.7],
    [-3.3, -0.4],
    [-2.75, -2.5],
    [-1.5, -4.0],
    [0.3, -4.5],
    [2.0, -3.85],
    [2.95, -2.2],
  ],
  neck: { md: 5, bl: 8 },
  slope: 0.85,
  crests: [
    ...cusp(
      0,
      [0.1, 2.7, 0],
      [0, 0.35, -2.4],
      [
        [2.5, 1.7, -1.15],
        [-2.5, 1.8, -1.15],
      ],
    ),
    ...cusp(
      1,
      [0.4, -2.6, -0.8],
      [0.15, -0.35, -2.5],
      [
        [2.3, -1.5, -1.4],
        [-2.3, -1.6, -1.4],
      ],
    ),
    { cusp: 2, from: [2.75, 1.4], to: [2.6, -1.2], zFrom: -1.3, zTo: -1.45 },
    { cusp: 3, from: [-2.75, 1.4], to: [-2.6, -1.2], zFrom: -1.3, zTo: -1.45 },
  ],
  orifices: [
    { canal: 'B', x: 0, y: 1.5, widthMd: 0.72, widthBl: 0.85, lean: [0, 0.1] },
    { canal: 'P', x: 0, y: -1.5, widthMd: 0.72, widthBl: 0.85, lean: [0, -0.1] },
  ],
  grooves: [
    [
      [0, 1.5],
      [0.08, 0.7],
      [-0.06, -0.1],
      [0.05, -0.8],
      [0, -1.5],
    ],
  ],
  roofZ: -6.3,
  floorZ: -7.9,
};

/** Mesial two thirds: no orifice lies further distally than this, mm (negative x). */
export const mesialTwoThirdsMm = (shape: ToothShape): number => -shape.crownMd / 6;
