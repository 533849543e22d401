/** Thin round or flat things on a film (canals, files, cones, clamp) as path length through them, in final pixels. */
import type { Raster } from '../raster.js';
import type { Point } from './canal-paths.js';

export interface LineMark {
  path: readonly Point[];
  /** Half width across the film at a share (0 to 1) of the path, mm. */
  halfMm: (share: number) => number;
  /** mm Al per mm of path through it; negative takes away (an empty canal in dentine). */
  opacity: number;
  /** Thickness along the beam in units of the width: 1 is round. */
  flat: number;
  /** A plate of this thickness (mm) instead of a rod. */
  plateMm?: number;
}

export type Project = (point: Point) => readonly [number, number];

/** Adds the mark to `target`. Within one mark the thickest crossing counts, so joints leave no knots. */
export function addLineMark(target: Raster, mark: LineMark, project: Project, pxPerMm: number): void {
  const places = mark.path.map(project);
  const reach = Math.max(mark.halfMm(0), mark.halfMm(0.5), mark.halfMm(1)) * pxPerMm + 2;
  const xs = places.map((p) => p[0]);
  const ys = places.map((p) => p[1]);
  const left = Math.max(0, Math.floor(Math.min(...xs) - reach));
  const right = Math.min(target.widthPx - 1, Math.ceil(Math.max(...xs) + reach));
  const top = Math.max(0, Math.floor(Math.min(...ys) - reach));
  const bottom = Math.min(target.heightPx - 1, Math.ceil(Math.max(...ys) + reach));
  if (right < left || bottom < top) return;
  const width = right - left + 1;
  const depth = new Float32Array(width * (bottom - top + 1));
  for (let i = 0; i < places.length - 1; i++) {
    const box = { left, right, top, bottom, width };
    drawPiece(depth, box, places[i]!, places[i + 1]!, mark, i / (places.length - 1), pxPerMm);
  }
  for (let y = top; y <= bottom; y++) {
    for (let x = left; x <= right; x++) {
      target.data[y * target.widthPx + x]! += depth[(y - top) * width + x - left]! * mark.opacity;
    }
  }
}

interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
  width: number;
}

function drawPiece(
  depth: Float32Array,
  box: Box,
  from: readonly [number, number],
  to: readonly [number, number],
  mark: LineMark,
  share: number,
  pxPerMm: number,
): void {
  const half = Math.max(0.02, mark.halfMm(share)) * pxPerMm;
  const reach = half + 1;
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const square = dx * dx + dy * dy || 1e-9;
  const x0 = Math.max(box.left, Math.floor(Math.min(from[0], to[0]) - reach));
  const x1 = Math.min(box.right, Math.ceil(Math.max(from[0], to[0]) + reach));
  const y0 = Math.max(box.top, Math.floor(Math.min(from[1], to[1]) - reach));
  const y1 = Math.min(box.bottom, Math.ceil(Math.max(from[1], to[1]) + reach));
  for (let y = y0; y <= y1; y++) {
    for (let x = x0; x <= x1; x++) {
      const t = Math.min(1, Math.max(0, ((x - from[0]) * dx + (y - from[1]) * dy) / square));
      const distance = Math.hypot(x - from[0] - t * dx, y - from[1] - t * dy);
      if (distance > reach) continue;
      const at = (y - box.top) * box.width + x - box.left;
      depth[at] = Math.max(depth[at]!, throughMm(distance, half, mark, pxPerMm));
    }
  }
}

/** Path through the rod or plate at a distance from its axis, with a soft pixel at the border. */
function throughMm(distance: number, half: number, mark: LineMark, pxPerMm: number): number {
  if (mark.plateMm !== undefined) return mark.plateMm * Math.min(1, Math.max(0, half + 0.5 - distance));
  let sum = 0;
  for (let i = -1; i <= 1; i++) {
    const off = Math.abs(distance + i / 3);
    sum += off >= half ? 0 : Math.sqrt(half * half - off * off);
  }
  return ((2 * sum) / 3 / pxPerMm) * mark.flat;
}
