/** The truth of a drawn film in pixels: canals with their lengths, neighbours, the greys of labelled places. */
import { discStatistics, type Raster } from '../raster.js';
import type { CanalState } from './canal-marks.js';
import type { MeasuredCanal, Point } from './canal-paths.js';
import { type Film, type FilmTooth, MAGNIFICATION, type Projection, placePoint } from './film-scene.js';

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

/** Where everything of a drawn film lies. */
export function truthOf(film: Film, grey: Raster, projection: Projection): FilmTruth {
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
