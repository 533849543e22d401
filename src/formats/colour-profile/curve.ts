import { latin1At, viewOf } from '../bytes.js';

/**
 * A tone curve: `power` 1 to 4 with the exponent in 1/256 (256 is linear), or a table of 4096 values 0-65535 at
 * even steps. A table is always resampled to 4096, so that no run of the source's bytes is carried over.
 */
export type Curve = { kind: 'power'; exponent256: number } | { kind: 'table'; values: Uint16Array };

const STEPS = 4096;

/** curveType (ICC.1, 10.6) or parametricCurveType (10.18). Null when it is neither or does not rise. */
export function readCurve(tag: Uint8Array | undefined): Curve | null {
  if (!tag || tag.length < 12) return null;
  const type = latin1At(tag, 0, 4);
  if (type === 'curv') return readSampled(viewOf(tag));
  return type === 'para' ? readParametric(viewOf(tag)) : null;
}

function readSampled(tag: Buffer): Curve | null {
  const count = tag.readUInt32BE(8);
  if (count === 0) return { kind: 'power', exponent256: 256 };
  if (count > 65536 || tag.length < 12 + 2 * count) return null;
  if (count === 1) {
    const exponent256 = tag.readUInt16BE(12);
    return exponent256 >= 128 && exponent256 <= 1024 ? { kind: 'power', exponent256 } : null;
  }
  return tableOf((position) => {
    const exact = position * (count - 1);
    const below = Math.min(Math.floor(exact), count - 2);
    const [low, high] = [tag.readUInt16BE(12 + 2 * below), tag.readUInt16BE(14 + 2 * below)];
    return (low + (high - low) * (exact - below)) / 65535;
  });
}

/** Parameters g a b c d e f by function type 0-4 (ICC.1, table 68). */
function readParametric(tag: Buffer): Curve | null {
  const form = tag.readUInt16BE(8);
  const count = [1, 3, 4, 5, 7][form];
  if (count === undefined || tag.length < 12 + 4 * count) return null;
  const [g = 1, a = 1, b = 0, c = 0, d = 0, e = 0, f = 0] = Array.from(
    { length: count },
    (_, index) => tag.readInt32BE(12 + 4 * index) / 65536,
  );
  const power = (x: number): number => Math.max(0, a * x + b) ** g;
  switch (form) {
    case 0:
      return tableOf((x) => x ** g);
    case 1:
      return tableOf((x) => (x >= -b / a ? power(x) : 0));
    case 2:
      return tableOf((x) => (x >= -b / a ? power(x) + c : c));
    case 3:
      return tableOf((x) => (x >= d ? power(x) : c * x));
    default:
      return tableOf((x) => (x >= d ? power(x) + e : c * x + f));
  }
}

function tableOf(curve: (position: number) => number): Curve | null {
  const values = new Uint16Array(STEPS);
  for (let step = 0; step < STEPS; step++) {
    const value = curve(step / (STEPS - 1)) * 65535;
    if (Number.isNaN(value)) return null;
    values[step] = Math.round(Math.min(65535, Math.max(0, value)));
    if (step > 0 && values[step]! < values[step - 1]!) return null;
  }
  return values[STEPS - 1] === values[0] ? null : { kind: 'table', values };
}

/** The curve's value 0-1 at a position 0-1. */
export function valueAt(curve: Curve, position: number): number {
  if (curve.kind === 'power') return position ** (curve.exponent256 / 256);
  return curve.values[Math.round(position * (STEPS - 1))]! / 65535;
}
