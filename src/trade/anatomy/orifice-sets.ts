import { isPrimary, isUpper, placeOf } from '../teeth.js';
import type { PointMm } from './polygon.js';
import { kindOf, toothSize } from './tooth-sizes.js';

/** An orifice in the tooth frame (x mesial, y buccal, mm, origin the centre of the crown), with its half-axes. */
export interface OrificePlace extends PointMm {
  rx: number;
  ry: number;
}

export type OrificeSet = Readonly<Record<string, OrificePlace>>;

type Row = readonly [x: number, y: number, sizeMd: number, sizeBl: number];

/**
 * Mean positions, mm, and orifice sizes before shaping. Sources of the positions:
 * U6 from the means of Kececi et al., Acta Odontol Scand 2014;72:354-361 (176 teeth; right and left averaged with
 *   mesial positive; DB2 moved 0.1 mm to clear DB). MB3 from memory: same groove, past MB2.
 * L6 fitted to published distances: mesial pair 3.1-3.2 mm (J Endod 2020;46:40-43), mesial to distal 4.4 mm (Harris
 *   et al., J Endod 2013), third root DB-DL 2.93 mm and four times as far from the midline (Gu et al., J Endod 2011).
 * U7 and L7 scaled from those. All other positions and all sizes are from memory; real teeth vary by about 0.5 mm.
 */
const SETS: Record<string, Record<string, Record<string, Row>>> = {
  U1: {
    one: { main: [0, -0.3, 1.4, 1.1] },
  },
  U2: {
    one: { main: [0, -0.3, 1.0, 1.0] },
  },
  U3: {
    one: { main: [0, -0.2, 1.0, 1.8] },
  },
  U4: {
    one: { main: [0, 0, 0.7, 2.8] },
    two: { B: [0, 1.5, 0.8, 0.9], P: [0, -1.5, 0.8, 0.9] },
    three: { MB: [0.8, 1.5, 0.6, 0.6], DB: [-0.7, 1.4, 0.6, 0.6], P: [0, -1.6, 0.8, 0.9] },
  },
  U5: {
    one: { main: [0, 0, 0.8, 2.4] },
    two: { B: [0, 1.25, 0.7, 0.8], P: [0, -1.25, 0.7, 0.8] },
    three: { MB: [0.7, 1.3, 0.5, 0.5], DB: [-0.6, 1.2, 0.5, 0.5], P: [0, -1.4, 0.8, 0.8] },
  },
  U6: {
    three: { MB1: [0.73, 2.62, 0.7, 0.8], DB: [-1.06, 1.22, 0.7, 0.7], P: [0, -2.52, 1.3, 1.0] },
    four: {
      MB1: [0.73, 2.62, 0.7, 0.8],
      MB2: [0.9, 0.87, 0.4, 0.4],
      DB: [-1.06, 1.22, 0.7, 0.7],
      P: [0, -2.52, 1.3, 1.0],
    },
    six: {
      MB1: [0.73, 2.62, 0.7, 0.8],
      MB2: [0.9, 0.87, 0.4, 0.4],
      MB3: [0.75, -0.1, 0.3, 0.3],
      DB: [-1.06, 1.22, 0.6, 0.6],
      DB2: [-0.79, 0.4, 0.4, 0.4],
      P: [0, -2.52, 1.3, 1.0],
    },
  },
  U7: {
    three: { MB1: [0.6, 2.2, 0.7, 0.7], DB: [-0.6, 0.85, 0.6, 0.6], P: [0, -2.2, 1.1, 0.9] },
    four: {
      MB1: [0.6, 2.2, 0.7, 0.7],
      MB2: [0.62, 0.6, 0.4, 0.4],
      DB: [-0.6, 0.85, 0.6, 0.6],
      P: [0, -2.2, 1.1, 0.9],
    },
    two: { B: [0, 1.8, 1.0, 0.9], P: [0, -1.9, 1.1, 0.9] },
  },
  L1: {
    one: { main: [0, -0.1, 0.6, 1.6] },
    two: { B: [0, 0.75, 0.5, 0.6], L: [0, -0.75, 0.5, 0.6] },
  },
  L2: {
    one: { main: [0, -0.1, 0.6, 1.8] },
    two: { B: [0, 0.85, 0.5, 0.6], L: [0, -0.85, 0.5, 0.6] },
  },
  L3: {
    one: { main: [0.2, 0, 0.9, 2.0] },
    two: { B: [0.2, 1.0, 0.8, 0.8], L: [0.2, -1.0, 0.7, 0.7] },
  },
  L4: {
    one: { main: [0, 0.4, 0.8, 1.4] },
    two: { B: [0, 1.0, 0.8, 0.8], L: [0, -0.7, 0.5, 0.5] },
    three: { MB: [0.6, 1.0, 0.5, 0.5], DB: [-0.6, 1.0, 0.5, 0.5], L: [0, -0.8, 0.5, 0.5] },
  },
  L5: {
    one: { main: [0, 0.2, 0.8, 1.6] },
    two: { B: [0, 0.9, 0.8, 0.8], L: [0, -0.8, 0.5, 0.5] },
  },
  L6: {
    three: { MB: [2.5, 1.6, 0.7, 0.7], ML: [2.5, -1.6, 0.7, 0.7], D: [-1.8, 0, 0.9, 2.0] },
    four: {
      MB: [2.5, 1.6, 0.7, 0.7],
      ML: [2.5, -1.6, 0.7, 0.7],
      DB: [-1.8, 1.25, 0.7, 0.8],
      DL: [-1.8, -1.25, 0.7, 0.8],
    },
    mm: {
      MB: [2.5, 1.55, 0.7, 0.7],
      MM: [2.5, 0.05, 0.35, 0.35],
      ML: [2.5, -1.55, 0.7, 0.7],
      D: [-1.8, 0, 0.9, 2.0],
    },
    radix: {
      MB: [2.5, 1.6, 0.7, 0.7],
      ML: [2.5, -1.6, 0.7, 0.7],
      DB: [-1.8, 0.6, 0.8, 1.0],
      DL: [-2.0, -2.3, 0.6, 0.6],
    },
  },
  L7: {
    three: { MB: [2.1, 1.35, 0.7, 0.7], ML: [2.1, -1.35, 0.7, 0.7], D: [-1.7, 0, 0.9, 1.7] },
    two: { M: [2.0, 0, 0.8, 1.2], D: [-1.7, 0, 0.8, 1.4] },
  },
  u4: {
    three: { MB1: [0.8, 1.6, 0.6, 0.6], DB: [-0.9, 1.0, 0.5, 0.5], P: [-0.1, -1.7, 0.8, 0.7] },
  },
  u5: {
    three: { MB1: [1.0, 2.0, 0.7, 0.7], DB: [-1.1, 1.2, 0.6, 0.6], P: [-0.1, -2.0, 0.9, 0.8] },
    four: {
      MB1: [1.0, 2.0, 0.6, 0.6],
      MB2: [1.05, 0.9, 0.4, 0.4],
      DB: [-1.1, 1.2, 0.6, 0.6],
      P: [-0.1, -2.0, 0.9, 0.8],
    },
  },
  l4: {
    three: { MB: [1.6, 0.95, 0.6, 0.6], ML: [1.6, -0.95, 0.6, 0.6], D: [-1.4, 0, 0.7, 1.2] },
    four: {
      MB: [1.6, 0.95, 0.6, 0.6],
      ML: [1.6, -0.95, 0.6, 0.6],
      DB: [-1.4, 0.8, 0.5, 0.5],
      DL: [-1.4, -0.8, 0.5, 0.5],
    },
  },
  l5: {
    three: { MB: [2.1, 1.25, 0.6, 0.6], ML: [2.1, -1.25, 0.6, 0.6], D: [-1.6, 0, 0.8, 1.5] },
    four: {
      MB: [2.1, 1.25, 0.6, 0.6],
      ML: [2.1, -1.25, 0.6, 0.6],
      DB: [-1.6, 1.0, 0.6, 0.6],
      DL: [-1.6, -1.0, 0.6, 0.6],
    },
  },
};

/** Teeth that borrow the sets of another kind, scaled by the size at the CEJ (from memory). */
const BORROWED: Record<string, string> = {
  U8: 'U7',
  L8: 'L7',
  u1: 'U1',
  u2: 'U2',
  u3: 'U3',
  l1: 'L1',
  l2: 'L2',
  l3: 'L3',
};

/** A tooth of the kind `key`; only its size and shape matter. */
const exampleOf = (key: string): number =>
  (key.charAt(0) === 'U' || key.charAt(0) === 'u' ? 10 : 40) + Number(key.charAt(1));

/** The published or drawn sets of a tooth by name: one, two, three, four, six, mm, radix. */
export function orificeSets(fdi: number): Record<string, OrificeSet> {
  const lender = BORROWED[kindOf(fdi)];
  const rows = SETS[lender ?? kindOf(fdi)] as Record<string, Record<string, Row>>;
  const { kx, ky } = scaleTo(fdi, lender);
  const place = ([x, y, md, bl]: Row): OrificePlace => ({
    x: x * kx,
    y: y * ky,
    rx: (md * kx) / 2,
    ry: (bl * ky) / 2,
  });
  return mapValues(rows, (set) => mapValues(set, place));
}

/** One set by name, or null when this tooth has none of that name. */
export const orificeSet = (fdi: number, name: string): OrificeSet | null => orificeSets(fdi)[name] ?? null;

function scaleTo(fdi: number, lender: string | undefined): { kx: number; ky: number } {
  if (lender === undefined) return { kx: 1, ky: 1 };
  const own = toothSize(fdi);
  const from = toothSize(exampleOf(lender));
  return { kx: own.cejMd / from.cejMd, ky: own.cejBl / from.cejBl };
}

/**
 * Centreline of the slit of a C-shaped lower second or third molar, mesiolingual end first, open to the lingual
 * (Min et al., J Endod 2006: most C-shaped floors are fused to the buccal wall; points from memory).
 */
const C_SHAPE: readonly (readonly [x: number, y: number])[] = [
  [1.9, -1.3],
  [2.2, -0.3],
  [2.0, 0.9],
  [1.1, 1.6],
  [-0.1, 1.7],
  [-1.2, 1.3],
  [-1.8, 0.4],
  [-1.7, -0.6],
];

export const C_SLIT_MM = 0.55;

/** Null for teeth whose C-shape has no drawn place. */
export function cShapeLine(fdi: number): PointMm[] | null {
  if (isPrimary(fdi) || isUpper(fdi) || placeOf(fdi) < 7) return null;
  const { kx, ky } = scaleTo(fdi, BORROWED[kindOf(fdi)]);
  return C_SHAPE.map(([x, y]) => ({ x: x * kx, y: y * ky }));
}

function mapValues<A, B>(record: Readonly<Record<string, A>>, make: (value: A) => B): Record<string, B> {
  return Object.fromEntries(Object.entries(record).map(([key, value]) => [key, make(value)]));
}
