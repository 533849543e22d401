/** What is drawn along a canal at each stage: the empty canal, a file with its stop, a cone, the filling. */

import { OPACITY } from './beam-scene.js';
import { type MeasuredCanal, type Point, pathLength, pathPart } from './canal-paths.js';
import type { LineMark } from './line-marks.js';

export type CanalState = 'found' | 'shaped' | 'files' | 'cones' | 'filled';

const mix = (from: number, to: number, share: number): number => from + (to - from) * share;

/** The first 0.3 mm lie in the chamber already. */
const belowFloor = (path: readonly Point[]): Point[] => pathPart(path, 0.3, pathLength(path) + 1);

function emptyCanal(canal: MeasuredCanal, widthMm: readonly [number, number]): LineMark {
  return {
    path: belowFloor(canal.shape.joins === undefined ? canal.inside : canal.own),
    halfMm: (share) => mix(widthMm[0], widthMm[1], share ** 0.75) / 2,
    opacity: OPACITY.pulp - OPACITY.dentine,
    flat: canal.shape.flat,
  };
}

/** The straight way up and out, from `extraMm` above the stop. */
function wayOut(canal: MeasuredCanal, extraMm: number): Point[] {
  const top = canal.above[0]!;
  const foot = canal.above[canal.above.length - 1]!;
  const length = pathLength([top, foot]);
  const share = extraMm / length;
  return [
    [
      top[0] + (top[0] - foot[0]) * share,
      top[1] + (top[1] - foot[1]) * share,
      top[2] + (top[2] - foot[2]) * share,
    ],
  ];
}

function file(canal: MeasuredCanal): LineMark[] {
  const path = [...wayOut(canal, 6), ...canal.above, ...canal.filled.slice(1)];
  const total = pathLength(path);
  const instrument: LineMark = {
    path,
    // Size 15: 0.15 mm at the tip, 0.02 mm wider per mm over the 16 mm of its cutting part.
    halfMm: (share) => 0.075 + 0.01 * Math.min(16, total * (1 - share)),
    opacity: OPACITY.steel,
    flat: 1,
  };
  const [x, y, z] = canal.above[0]!;
  const stop: LineMark = {
    path: [
      [x - 0.4, y, z + 0.55],
      [x + 0.4, y, z + 0.5],
    ],
    halfMm: () => 0.5,
    opacity: 0.95,
    flat: 1,
    plateMm: 1.7,
  };
  return [stop, instrument];
}

function cone(canal: MeasuredCanal): LineMark {
  const path = [...wayOut(canal, 2.2), ...canal.above, ...canal.filled.slice(1)];
  const total = pathLength(path);
  const tip = canal.shape.shapedMm[1] / 2;
  return {
    path,
    halfMm: (share) => Math.min(0.45, tip + 0.02 * total * (1 - share)),
    opacity: OPACITY.guttaPercha - OPACITY.dentine * 0.6,
    flat: 1,
  };
}

function filling(canal: MeasuredCanal): LineMark {
  const length = pathLength(canal.own);
  const [wide, tip] = canal.shape.shapedMm;
  return {
    path: pathPart(canal.own, 0.3, length),
    halfMm: (share) => mix(wide, tip, share ** 0.85) / 2,
    opacity: OPACITY.guttaPercha - OPACITY.dentine,
    flat: Math.min(1.1, canal.shape.flat),
  };
}

export function canalMarks(canal: MeasuredCanal, state: CanalState): LineMark[] {
  const { widthMm, shapedMm } = canal.shape;
  const shaped = emptyCanal(canal, [mix(widthMm[0], shapedMm[0], 0.8), widthMm[1]]);
  switch (state) {
    case 'found':
      return [emptyCanal(canal, widthMm)];
    case 'shaped':
      return [shaped];
    case 'files':
      return [emptyCanal(canal, [widthMm[0] * 1.15, widthMm[1]]), ...file(canal)];
    case 'cones':
      return [shaped, cone(canal)];
    case 'filled':
      return [emptyCanal(canal, [widthMm[1] * 0.8, widthMm[1] * 0.8]), filling(canal)];
  }
}
