/**
 * One radiograph: what stands in the beam, how the tube and the sensor stand, and the drawing of it.
 * Comes in: solids, canals and marks in the frame of the treated tooth (x mesial, y buccal, z to the biting surface).
 * Leaves: a grey picture at full precision and the truth of where everything lies, in pixels.
 */

import { layeredNoise } from '../noise.js';
import { blankRaster, discStatistics, type Raster, resampled } from '../raster.js';
import { boneGrain, type Grain } from './bone-grain.js';
import { type CanalState, canalMarks } from './canal-marks.js';
import type { MeasuredCanal, Point } from './canal-paths.js';
import { type Bone, castFilm, OPACITY, type PlacedTooth } from './cast.js';
import { addLineMark, type LineMark } from './line-marks.js';
import { type Exposure, expose } from './tone.js';

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

/** mm Al over the whole film. `coarse` is the number of pixels one ray stands for. */
function aluminiumOf(film: Film, projection: Projection, coarse: number): Raster {
  const { widthPx, heightPx } = film;
  const gridWidth = Math.round(widthPx / coarse);
  const gridHeight = Math.round(heightPx / coarse);
  const beamRad = (film.beamDeg * Math.PI) / 180;
  const rayAt = (column: number, row: number) =>
    projection.rayAt(
      ((column + 0.5) * widthPx) / gridWidth - 0.5,
      ((row + 0.5) * heightPx) / gridHeight - 0.5,
    );
  const cast = castFilm(film.teeth, film.bone, { widthPx: gridWidth, heightPx: gridHeight, rayAt }, beamRad);
  const teeth = resampled(cast.teeth, widthPx, heightPx);
  const spongy = resampled(cast.spongy, widthPx, heightPx);
  const dense = resampled(cast.dense, widthPx, heightPx);
  const sum = blankRaster(widthPx, heightPx);
  const shear = Math.tan(beamRad);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const at = y * widthPx + x;
      const ray = projection.rayAt(x, y);
      let value = Math.max(0, teeth.data[at]!) + film.soft(ray.x, ray.z) + film.beyond(ray.x, ray.z);
      const bonePath = Math.max(0, spongy.data[at]!);
      if (bonePath > 0.01 || dense.data[at]! > 0.01) {
        const grain = boneGrain(ray.x, ray.z, shear, film.grain);
        const plates = 1 + 0.1 * layeredNoise(ray.x / 2.1, ray.z / 1.7, 2, film.grain.seed + 70);
        value += bonePath * OPACITY.trabecular * (1 + grain) + Math.max(0, dense.data[at]!) * plates;
      }
      sum.data[at] = value;
    }
  }
  return sum;
}

export interface FilmTruth {
  name: string;
  fdi: number;
  upper: boolean;
  mesialSide: 1 | -1;
  beamDeg: number;
  mmPerPx: number;
  magnification: number;
  widthPx: number;
  heightPx: number;
  clamp: boolean;
  canalState: CanalState;
  canals: CanalTruth[];
  neighbours: { fdi: number; crownPx: readonly [number, number]; apexPx: readonly [number, number] }[];
  crownPx: readonly [number, number];
  regions: { name: string; xPx: number; yPx: number; radiusPx: number; mean: number; sd: number }[];
}

export interface CanalTruth {
  name: string;
  worked: boolean;
  recordedMm: number;
  /** Length in space from the stop to the end, mm. */
  lengthMm: number;
  /** The same measured along the film, at its scale. */
  drawnMm: number;
  orificePx: readonly [number, number];
  endPx: readonly [number, number];
  apexPx: readonly [number, number];
  shortMm: number;
  joins?: { canal: string; atMm: number; px: readonly [number, number] };
  pathPx: (readonly [number, number])[];
}

const tenth = ([x, y]: readonly [number, number]) =>
  [Math.round(x * 10) / 10, Math.round(y * 10) / 10] as const;

function canalTruth(_film: Film, tooth: FilmTooth, canal: MeasuredCanal, projection: Projection): CanalTruth {
  const place = (point: Point) => projection.project(placePoint(tooth, point));
  const whole = [...canal.above, ...canal.filled.slice(1)];
  const px = whole.map(place);
  const steps = (points: readonly (readonly number[])[]) =>
    points.slice(1).reduce((sum, p, i) => sum + Math.hypot(...p.map((v, axis) => v - points[i]![axis]!)), 0);
  const end = canal.own[canal.own.length - 1]!;
  return {
    name: canal.shape.name,
    worked: tooth.canalState !== 'found' && (tooth.worked?.includes(canal.shape.name) ?? true),
    recordedMm: canal.shape.lengthMm ?? 0,
    lengthMm: steps(whole),
    drawnMm: steps(px) / projection.pxPerMm,
    orificePx: tenth(place(canal.inside[0]!)),
    endPx: tenth(place(canal.filled[canal.filled.length - 1]!)),
    apexPx: tenth(place(canal.inside[canal.inside.length - 1]!)),
    shortMm: canal.shape.shortMm,
    ...(canal.shape.joins === undefined ? {} : { joins: { ...canal.shape.joins, px: tenth(place(end)) } }),
    pathPx: canal.own.filter((_, i) => i % 5 === 0).map((point) => tenth(place(point))),
  };
}

function truthOf(film: Film, grey: Raster, projection: Projection): FilmTruth {
  const treated = film.teeth.find((tooth) => tooth.fdi === film.fdi)!;
  const { name, fdi, upper, mesialSide, beamDeg, mmPerPx, widthPx, heightPx, clamp } = film;
  const spot = (tooth: FilmTooth, z: number) => tenth(projection.project(placePoint(tooth, [0, 0, z])));
  return {
    ...{ name, fdi, upper, mesialSide, beamDeg, mmPerPx, magnification: MAGNIFICATION },
    ...{ widthPx, heightPx, clamp, canalState: treated.canalState },
    canals: treated.canals.map((canal) => canalTruth(film, treated, canal, projection)),
    neighbours: film.teeth
      .filter((tooth) => tooth !== treated)
      .map((tooth) => ({ fdi: tooth.fdi, crownPx: spot(tooth, 4), apexPx: spot(tooth, -13) })),
    crownPx: spot(treated, 4),
    regions: film.regions.map((region) => {
      const [xPx, yPx] = tenth(projection.project(region.at));
      const radiusPx = region.radiusMm * projection.pxPerMm;
      const { mean, sd } = discStatistics(grey, xPx, yPx, radiusPx);
      return { name: region.name, xPx, yPx, radiusPx, mean, sd };
    }),
  };
}

export interface DrawnFilm {
  grey: Raster;
  truth: FilmTruth;
}

export function drawFilm(film: Film, coarse = 2): DrawnFilm {
  const projection = projectionOf(film);
  const aluminium = aluminiumOf(film, projection, coarse);
  const marks = [...film.teeth.flatMap((tooth) => placedCanalMarks(tooth)), ...film.marks];
  for (const mark of marks) addLineMark(aluminium, mark, projection.project, projection.pxPerMm);
  for (let i = 0; i < aluminium.data.length; i++) aluminium.data[i] = Math.max(0, aluminium.data[i]!);
  const grey = expose(aluminium, film.exposure);
  return { grey, truth: truthOf(film, grey, projection) };
}

function placedCanalMarks(tooth: FilmTooth): LineMark[] {
  return tooth.canals.flatMap((canal) => {
    const worked = tooth.worked?.includes(canal.shape.name) ?? true;
    return canalMarks(canal, worked ? tooth.canalState : 'shaped').map((mark) => ({
      ...mark,
      path: mark.path.map((point) => placePoint(tooth, point)),
    }));
  });
}
