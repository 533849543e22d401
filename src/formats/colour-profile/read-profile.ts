import { latin1At, viewOf } from '../bytes.js';
import { type Curve, readCurve } from './curve.js';

/**
 * What a colour profile says in numbers: D50 XYZ of red, green and blue with a curve each, or the curve of grey.
 * Layout: ICC.1 (header 7.2, tag table 7.3, XYZType 10.31). Numbers only; texts are never read.
 */
export type ProfileNumbers =
  | { kind: 'rgb'; colorants: [Xyz, Xyz, Xyz]; curves: [Curve, Curve, Curve] }
  | { kind: 'grey'; curve: Curve };

/** XYZ as s15Fixed16 integers (65536 is 1.0). */
export type Xyz = [x: number, y: number, z: number];

/** D50, the white of the profile connection space (ICC.1, 7.2.16), as s15Fixed16. */
export const D50: Xyz = [0xf6d6, 0x10000, 0xd32d];

/** Sum of the colorants may differ from D50 by this much in each of X, Y, Z: maker's rounding, not other data. */
const WHITE_SLACK = 0.03 * 65536;

/** Null for what is not rebuilt: lookup tables, CMYK, Lab, and anything broken. */
export function readProfile(profile: Uint8Array): ProfileNumbers | null {
  if (profile.length < 132 || latin1At(profile, 36, 4) !== 'acsp' || latin1At(profile, 20, 4) !== 'XYZ ')
    return null;
  const tags = readTags(profile);
  if (!tags || [...tags.keys()].some((name) => /^[AB]2[AB]\d$|^[BD]2[BD]\d$/.test(name))) return null;
  const space = latin1At(profile, 16, 4);
  if (space === 'GRAY') {
    const curve = readCurve(tags.get('kTRC'));
    return curve && { kind: 'grey', curve };
  }
  return space === 'RGB ' ? readRgb(tags) : null;
}

function readRgb(tags: Map<string, Uint8Array>): ProfileNumbers | null {
  const colorants = ['rXYZ', 'gXYZ', 'bXYZ'].map((name) => readXyz(tags.get(name)));
  const curves = ['rTRC', 'gTRC', 'bTRC'].map((name) => readCurve(tags.get(name)));
  const [red, green, blue] = colorants;
  const [redCurve, greenCurve, blueCurve] = curves;
  if (!red || !green || !blue || !redCurve || !greenCurve || !blueCurve) return null;
  const white = D50.every(
    (part, axis) => Math.abs(red[axis]! + green[axis]! + blue[axis]! - part) <= WHITE_SLACK,
  );
  return white
    ? { kind: 'rgb', colorants: [red, green, blue], curves: [redCurve, greenCurve, blueCurve] }
    : null;
}

function readTags(profile: Uint8Array): Map<string, Uint8Array> | null {
  const view = viewOf(profile);
  const count = view.readUInt32BE(128);
  if (count > 100 || 132 + 12 * count > profile.length) return null;
  const tags = new Map<string, Uint8Array>();
  for (let index = 0; index < count; index++) {
    const at = 132 + 12 * index;
    const offset = view.readUInt32BE(at + 4);
    const size = view.readUInt32BE(at + 8);
    if (offset + size > profile.length) return null;
    tags.set(latin1At(profile, at, 4), profile.subarray(offset, offset + size));
  }
  return tags;
}

function readXyz(tag: Uint8Array | undefined): Xyz | null {
  if (!tag || tag.length < 20 || latin1At(tag, 0, 4) !== 'XYZ ') return null;
  const view = viewOf(tag);
  const xyz: Xyz = [view.readInt32BE(8), view.readInt32BE(12), view.readInt32BE(16)];
  return xyz.every((part) => part > -32768 && part < 98304) ? xyz : null;
}
