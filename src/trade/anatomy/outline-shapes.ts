/**
 * Corner points of outlines in the tooth frame, as shares of half the mesiodistal (x, mesial positive) and half the
 * buccolingual (y, buccal positive) width, counter-clockwise. A smooth curve near them is stretched to the true size.
 *
 * Shapes after dental-anatomy teaching pages (Wheeler tradition): upper central triangular, lateral ovoid, canines
 * diamond-shaped; upper premolars an oval hexagon, the second ovoid; U6 a rhomboid with acute mesiobuccal and
 * distopalatal corners, U7 with a small distopalatal corner; L6 five-sided and wider on the mesial, L7 a rectangle.
 * The points themselves are drawn by eye.
 */
export type Corners = readonly (readonly [x: number, y: number])[];

export interface OutlineShape {
  crown: Corners;
  cej: Corners;
  /** x += shear * y in millimetres: leans a rectangle into a rhomboid. */
  shear: number;
}

const OVAL: Corners = [
  [1, 0.15],
  [0.75, 0.8],
  [0, 1.05],
  [-0.75, 0.8],
  [-1, 0.15],
  [-0.65, -0.7],
  [0, -1.05],
  [0.65, -0.7],
];

const TRIANGULAR: Corners = [
  [1, 0.3],
  [0.75, 0.9],
  [0, 1.05],
  [-0.75, 0.9],
  [-1, 0.3],
  [-0.6, -0.6],
  [0, -1.05],
  [0.6, -0.6],
];

/** Dent on the mesial: the groove between two roots, and the kidney shape of the floor. */
const KIDNEY: Corners = [
  [0.95, 0.5],
  [0.7, 0.95],
  [0, 1.08],
  [-0.7, 0.95],
  [-1, 0.4],
  [-0.95, -0.3],
  [-0.65, -0.9],
  [0, -1.05],
  [0.65, -0.9],
  [0.9, -0.45],
  [0.74, 0],
];

const UPPER_MOLAR_NECK: Corners = [
  [1, 0.5],
  [0.85, 0.95],
  [0.25, 1.05],
  [-0.3, 0.95],
  [-0.85, 0.8],
  [-1, 0.25],
  [-0.82, -0.45],
  [-0.5, -0.97],
  [0.05, -1.08],
  [0.55, -0.95],
  [0.85, -0.45],
  [0.93, 0],
];

const LOWER_MOLAR_NECK: Corners = [
  [1, 0.5],
  [0.82, 1],
  [0.3, 1],
  [0, 0.86],
  [-0.35, 0.92],
  [-0.82, 0.86],
  [-1, 0.4],
  [-1, -0.4],
  [-0.82, -0.86],
  [-0.35, -0.92],
  [0, -0.86],
  [0.3, -1],
  [0.82, -1],
  [1, -0.5],
];

const RHOMBOID: Corners = [
  [1, 0.45],
  [0.98, 0.95],
  [0.5, 1.05],
  [0, 0.92],
  [-0.5, 1.02],
  [-0.95, 0.85],
  [-0.96, 0.2],
  [-1, -0.45],
  [-0.98, -0.95],
  [-0.5, -1.05],
  [-0.05, -0.95],
  [0.5, -1.05],
  [0.95, -0.85],
  [0.96, -0.2],
];

const HEART: Corners = [
  [1, 0.45],
  [0.97, 0.95],
  [0.5, 1.05],
  [0.02, 0.93],
  [-0.5, 1.02],
  [-0.95, 0.8],
  [-1, 0.2],
  [-0.92, -0.35],
  [-0.72, -0.75],
  [-0.35, -0.98],
  [0.15, -1.08],
  [0.6, -1.02],
  [0.95, -0.75],
  [0.97, -0.2],
];

const FIVE_SIDED: Corners = [
  [1, 0.3],
  [0.98, 0.85],
  [0.6, 1.08],
  [0.3, 0.96],
  [-0.05, 1.05],
  [-0.45, 0.86],
  [-0.85, 0.68],
  [-1.05, 0.1],
  [-0.98, -0.45],
  [-0.8, -0.92],
  [-0.4, -1.04],
  [0.05, -0.9],
  [0.5, -1.05],
  [0.92, -0.92],
  [1, -0.3],
];

const FOUR_CUSPED: Corners = [
  [1, 0.4],
  [0.98, 0.95],
  [0.5, 1.08],
  [0.02, 0.93],
  [-0.5, 1.02],
  [-0.92, 0.85],
  [-1, 0.3],
  [-1, -0.3],
  [-0.9, -0.88],
  [-0.5, -1.03],
  [0, -0.93],
  [0.5, -1.05],
  [0.96, -0.92],
  [1, -0.4],
];

const UPPER_PREMOLAR: Corners = [
  [1, 0.35],
  [0.85, 0.75],
  [0.35, 1.05],
  [-0.35, 1.05],
  [-0.9, 0.75],
  [-1, 0.3],
  [-0.88, -0.4],
  [-0.6, -0.9],
  [-0.1, -1.07],
  [0.35, -0.98],
  [0.7, -0.6],
  [0.82, -0.1],
];

const CANINE: Corners = [
  [1, 0.15],
  [0.6, 0.75],
  [0.1, 1.1],
  [-0.4, 0.85],
  [-1, 0.12],
  [-0.6, -0.65],
  [-0.05, -1.08],
  [0.3, -0.9],
  [0.65, -0.55],
];

const CENTRAL: Corners = [
  [1, 0.5],
  [0.88, 0.95],
  [0.35, 1.06],
  [-0.3, 1.06],
  [-0.85, 0.92],
  [-1, 0.42],
  [-0.74, -0.3],
  [-0.42, -0.95],
  [-0.05, -1.08],
  [0.32, -0.95],
  [0.72, -0.25],
];

const LOWER_INCISOR: Corners = [
  [1, 0.35],
  [0.85, 0.85],
  [0.3, 1.05],
  [-0.3, 1.05],
  [-0.85, 0.85],
  [-1, 0.35],
  [-0.72, -0.45],
  [-0.36, -1],
  [0, -1.06],
  [0.36, -1],
  [0.72, -0.45],
];

const LOWER_PREMOLAR: Corners = [
  [1, 0.25],
  [0.78, 0.8],
  [0.2, 1.08],
  [-0.3, 1.05],
  [-0.88, 0.7],
  [-1, 0.15],
  [-0.75, -0.55],
  [-0.25, -1.03],
  [0.2, -1.03],
  [0.58, -0.78],
  [0.8, -0.3],
];

const PENTAGON: Corners = [
  [1, 0.25],
  [0.85, 0.8],
  [0.25, 1.08],
  [-0.3, 1.06],
  [-0.9, 0.75],
  [-1, 0.15],
  [-0.92, -0.5],
  [-0.6, -1],
  [0, -0.98],
  [0.6, -1.02],
  [0.92, -0.55],
];

const UPPER_PRIMARY_FIRST: Corners = [
  [1, 0.55],
  [0.9, 1.05],
  [0.3, 1.05],
  [-0.4, 0.92],
  [-0.95, 0.7],
  [-1, 0.1],
  [-0.8, -0.6],
  [-0.3, -1.05],
  [0.25, -1.08],
  [0.7, -0.75],
  [0.92, -0.1],
];

const LOWER_PRIMARY_FIRST: Corners = [
  [0.98, 0.5],
  [0.82, 1.1],
  [0.3, 1.05],
  [-0.3, 0.86],
  [-0.85, 0.78],
  [-1, 0.2],
  [-0.95, -0.5],
  [-0.6, -0.95],
  [0, -0.92],
  [0.5, -0.95],
  [0.9, -0.6],
  [1, -0.05],
];

const plain = (crown: Corners, cej: Corners, shear = 0): OutlineShape => ({ crown, cej, shear });

/** By tooth kind; primary front teeth are shaped as the permanent ones. */
export const OUTLINE_SHAPES: Readonly<Record<string, OutlineShape>> = {
  U1: plain(CENTRAL, TRIANGULAR),
  U2: plain(TRIANGULAR, OVAL),
  U3: plain(CANINE, OVAL),
  U4: plain(UPPER_PREMOLAR, KIDNEY),
  U5: plain(OVAL, OVAL),
  U6: plain(RHOMBOID, UPPER_MOLAR_NECK, 0.1),
  U7: plain(HEART, UPPER_MOLAR_NECK, 0.08),
  U8: plain(HEART, UPPER_MOLAR_NECK, 0.04),
  L1: plain(LOWER_INCISOR, OVAL),
  L2: plain(LOWER_INCISOR, OVAL),
  L3: plain(CANINE, OVAL),
  L4: plain(LOWER_PREMOLAR, OVAL),
  L5: plain(PENTAGON, OVAL),
  L6: plain(FIVE_SIDED, LOWER_MOLAR_NECK),
  L7: plain(FOUR_CUSPED, LOWER_MOLAR_NECK),
  L8: plain(FOUR_CUSPED, LOWER_MOLAR_NECK),
  u4: plain(UPPER_PRIMARY_FIRST, UPPER_MOLAR_NECK),
  u5: plain(RHOMBOID, UPPER_MOLAR_NECK, 0.1),
  l4: plain(LOWER_PRIMARY_FIRST, LOWER_MOLAR_NECK),
  l5: plain(FIVE_SIDED, LOWER_MOLAR_NECK),
};
