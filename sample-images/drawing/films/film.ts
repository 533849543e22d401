/**
 * One radiograph: what stands in the beam, how the tube and the sensor stand, and the drawing of it.
 * Comes in: solids, canals and marks in the frame of the treated tooth (x mesial, y buccal, z to the biting surface).
 * Leaves: a grey picture at full precision and the truth of where everything lies, in pixels.
 */

import { layeredNoise } from '../noise.js';
import { blankRaster, type Raster, resampled } from '../raster.js';
import { OPACITY } from './beam-scene.js';
import { boneGrain } from './bone-grain.js';
import { canalMarks } from './canal-marks.js';
import { castFilm } from './cast.js';
import { type Film, type FilmTooth, type Projection, placePoint, projectionOf } from './film-scene.js';
import { type FilmTruth, truthOf } from './film-truth.js';
import { addLineMark, type LineMark } from './line-marks.js';
import { expose } from './tone.js';

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
