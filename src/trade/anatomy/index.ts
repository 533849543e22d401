/**
 * Tooth anatomy for drawings: in come a tooth and its recorded canals, out go outlines and places in millimetres, in
 * the tooth frame (x mesial, y buccal, origin the centre of the crown, seen from the occlusal side) or posed for the
 * page. It draws nothing that was not recorded; a canal without a known place is listed, not guessed. Means only:
 * real teeth differ, and nothing here is advice for treatment.
 */
export * from './chamber.js';
export * from './groove-lines.js';
export * from './orifice-diagram.js';
export type { OrificePlace, OrificeSet } from './orifice-sets.js';
export { cejOutline, toothOutline } from './outlines.js';
export { type Placed, type PlacedOrifice, placeOrifices } from './place-orifices.js';
export type { PointMm } from './polygon.js';
export * from './pose.js';
export { type ToothSize, toothSize } from './tooth-sizes.js';
