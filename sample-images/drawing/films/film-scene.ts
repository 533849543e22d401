/** What stands in the beam and how tube and sensor stand; and where a place of the mouth falls on the film. */

import type { Bone, PlacedTooth } from './beam-scene.js';
import type { Grain } from './bone-grain.js';
import type { CanalState } from './canal-marks.js';
import type { MeasuredCanal, Point } from './canal-paths.js';
import type { LineMark } from './line-marks.js';
import type { Exposure } from './tone.js';

export interface FilmTooth extends PlacedTooth {
  fdi: number;
  canals: readonly MeasuredCanal[];
  canalState: CanalState;
  /** Labels of canals that carry a file, cone or filling; all of them when absent. */
  worked?: readonly string[];
}

export interface RegionSpot {
  name: string;
  at: Point;
  radiusMm: number;
}

export interface Film {
  name: string;
  fdi: number;
  /** Lowers have their apices down, uppers up. */
  upper: boolean;
  /** 1 when mesial lies to the right of the picture (patient's right side). */
  mesialSide: 1 | -1;
  /** Turn of the tube to the mesial, degrees. */
  beamDeg: number;
  centreX: number;
  centreZ: number;
  turnDeg: number;
  teeth: readonly FilmTooth[];
  bone: Bone;
  grain: Grain;
  marks: readonly LineMark[];
  /** Anything broad that is neither tooth nor jaw bone at this place: mm Al added. */
  beyond: (x: number, z: number) => number;
  soft: (x: number, z: number) => number;
  exposure: Exposure;
  regions: readonly RegionSpot[];
  clamp: boolean;
  widthPx: number;
  heightPx: number;
  mmPerPx: number;
}

export const MAGNIFICATION = 1.05;

export interface Projection {
  project: (point: Point) => readonly [number, number];
  pxPerMm: number;
  rayAt: (xPx: number, yPx: number) => { x: number; z: number };
}

/** Where a place of the tooth frame falls on the film, and the way back. */
export function projectionOf(film: Film): Projection {
  const pxPerMm = MAGNIFICATION / film.mmPerPx;
  const shear = Math.tan((film.beamDeg * Math.PI) / 180);
  const turn = (film.turnDeg * Math.PI) / 180;
  const cos = Math.cos(turn);
  const sin = Math.sin(turn);
  const down = film.upper ? 1 : -1;
  return {
    pxPerMm,
    project: ([x, y, z]) => {
      const across = (x - y * shear - film.centreX) * film.mesialSide * pxPerMm;
      const along = (z - film.centreZ) * down * pxPerMm;
      return [film.widthPx / 2 + across * cos - along * sin, film.heightPx / 2 + across * sin + along * cos];
    },
    rayAt: (xPx, yPx) => {
      const dx = xPx - film.widthPx / 2;
      const dy = yPx - film.heightPx / 2;
      return {
        x: ((dx * cos + dy * sin) * film.mesialSide) / pxPerMm + film.centreX,
        z: ((-dx * sin + dy * cos) * down) / pxPerMm + film.centreZ,
      };
    },
  };
}

/** From the tooth's own frame into the film's common one. */
export function placePoint(tooth: PlacedTooth, [x, y, z]: Point): Point {
  const cos = Math.cos(tooth.leanRad);
  const sin = Math.sin(tooth.leanRad);
  return [tooth.x + x * cos + z * sin, y, tooth.z - x * sin + z * cos];
}
