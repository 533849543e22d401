/** The canals of the lower right first molar: MB, MM that joins it, ML and D. */
import { CASE_A } from '../case-facts.js';
import { type CanalShape, type MeasuredCanal, measureCanal, pathLength, pathPart } from './canal-paths.js';

const MB: CanalShape = {
  name: 'MB',
  points: [
    [2.5, 1.55, -1.7],
    [2.8, 1.62, -4.4],
    [3.15, 1.45, -7],
    [3.15, 1.15, -9.3],
    [2.72, 0.85, -11.3],
    [2.0, 0.65, -12.8],
    [1.5, 0.55, -13.6],
  ],
  handleXy: [1.7, 1.5],
  widthMm: [0.62, 0.22],
  flat: 1.6,
  shapedMm: [0.92, 0.3],
  shortMm: 0.6,
  lengthMm: CASE_A.canals.MB,
};

const ML: CanalShape = {
  ...MB,
  name: 'ML',
  points: MB.points.map(([x, y, z]) => [x, -y, z] as const),
  handleXy: [1.7, -1.5],
  shortMm: 0.8,
  lengthMm: CASE_A.canals.ML,
};

const D: CanalShape = {
  name: 'D',
  points: [
    [-1.8, 0, -1.7],
    [-2.4, 0, -4.4],
    [-3.15, 0, -7],
    [-3.6, 0, -10],
    [-3.95, 0, -12.4],
    [-4.2, 0, -13.95],
  ],
  handleXy: [-0.7, 0],
  widthMm: [0.85, 0.28],
  flat: 2.3,
  shapedMm: [1.15, 0.42],
  shortMm: 0.7,
  lengthMm: CASE_A.canals.D,
};

/** The middle mesial canal: down the groove, then into MB 4 mm from its end. */
function middleMesial(mb: MeasuredCanal): CanalShape {
  const total = pathLength(mb.inside);
  const [junction] = pathPart(mb.inside, total - CASE_A.joins.atMm, total);
  return {
    ...MB,
    name: 'MM',
    points: [[2.5, 0.05, -1.7], [2.78, 0.15, -4.4], [3.1, 0.5, -7.2], junction!],
    handleXy: [1.7, 0.3],
    widthMm: [0.34, 0.24],
    flat: 1.3,
    shapedMm: [0.6, 0.15],
    lengthMm: CASE_A.canals.MM,
    joins: { canal: CASE_A.joins.into, atMm: CASE_A.joins.atMm },
  };
}

export function lowerMolarCanals(): MeasuredCanal[] {
  const mb = measureCanal(MB);
  return [mb, measureCanal(middleMesial(mb), mb), measureCanal(ML), measureCanal(D)];
}
