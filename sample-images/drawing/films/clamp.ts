/** A rubber-dam clamp seen from the cheek: two jaws at the neck, and the bow behind the tooth (distal). */
import type { Point } from './canal-paths.js';
import type { LineMark } from './line-marks.js';

export interface ClampSize {
  /** Half the mesiodistal grip and half the distance between the jaws, mm. */
  halfMd: number;
  halfBl: number;
  /** Height of the jaws' grip over the neck. */
  gripZ: number;
  /** Height of the bow's crown. */
  bowZ: number;
  /** How far the bow reaches distally. */
  bowX: number;
}

/** Steel thick enough that one layer already stops the beam. */
const PLATE = { opacity: 60, flat: 1, plateMm: 0.8 };

function jaw(size: ClampSize, side: 1 | -1): LineMark[] {
  const { halfMd, halfBl, gripZ } = size;
  const y = side * halfBl;
  const arch: Point[] = Array.from({ length: 25 }, (_, i) => {
    const t = i / 12 - 1;
    return [t * halfMd, y - side * 0.9 * t * t, gripZ - 0.25 + 1.15 * (1 - t * t)] as Point;
  });
  // The eye for the forceps, a ring standing on the middle of the jaw.
  const eye: Point[] = Array.from({ length: 33 }, (_, i) => {
    const turn = (i / 32) * 2 * Math.PI;
    return [0.2 * halfMd + 1.0 * Math.cos(turn), y, gripZ + 1.75 + 0.85 * Math.sin(turn)] as Point;
  });
  return [
    { ...PLATE, path: arch, halfMm: (share) => 0.16 + 0.9 * Math.sin(Math.PI * share) },
    { ...PLATE, path: eye, halfMm: () => 0.46 },
  ];
}

export function clampMarks(size: ClampSize): LineMark[] {
  const { halfMd, halfBl, gripZ, bowX, bowZ } = size;
  const half = (side: 1 | -1): Point[] => [
    [-0.55 * halfMd, side * halfBl, gripZ + 1.4],
    [-halfMd - 0.6, side * (halfBl + 0.3), gripZ + 1.9],
    [-halfMd - 0.45 * (bowX - halfMd), side * halfBl, gripZ + 3.0],
    [-bowX + 0.9, side * halfBl * 0.8, bowZ - 1.6],
    [-bowX, side * halfBl * 0.45, bowZ - 0.3],
    [-bowX - 0.15, 0, bowZ],
  ];
  const bow: LineMark = {
    ...PLATE,
    path: bent([...half(1), ...half(-1).reverse().slice(1)]),
    halfMm: (share) => 0.9 + 0.35 * Math.sin(Math.PI * share),
  };
  return [...jaw(size, 1), ...jaw(size, -1), bow];
}

/** Rounds the corners of a coarse line (two rounds of corner cutting, ends kept). */
function bent(points: readonly Point[]): Point[] {
  let line = [...points];
  for (let round = 0; round < 3; round++) {
    const next: Point[] = [line[0]!];
    for (let i = 0; i < line.length - 1; i++) {
      const a = line[i]!;
      const b = line[i + 1]!;
      const at = (t: number): Point => [
        a[0] + (b[0] - a[0]) * t,
        a[1] + (b[1] - a[1]) * t,
        a[2] + (b[2] - a[2]) * t,
      ];
      next.push(at(0.25), at(0.75));
    }
    next.push(line[line.length - 1]!);
    line = next;
  }
  return line;
}
