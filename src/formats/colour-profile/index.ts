/**
 * Colour profiles. The source's profile comes in; leaves: nothing, or a profile of ours with the same numbers, so
 * that colours survive and texts, dates and makers do not. Lookup tables and CMYK are refused with a note.
 */
import { sameBytes } from '../bytes.js';
import { buildProfile } from './build-profile.js';
import { type Curve, valueAt } from './curve.js';
import { type ProfileNumbers, readProfile, type Xyz } from './read-profile.js';

export const PROFILE_DROPPED =
  'The colour profile could not be rebuilt and was left out, so colours may look slightly different.';

/** What to embed instead of a source profile: null bytes when none is needed or none can be made. */
export function canonicalProfile(
  source: Uint8Array | null,
  channels: 'rgb' | 'grey' | 'cmyk',
): { profile: Uint8Array | null; notes: string[] } {
  if (!source) return { profile: null, notes: [] };
  const numbers = readProfile(source);
  if (!numbers || numbers.kind !== channels) return { profile: null, notes: [PROFILE_DROPPED] };
  return { profile: isSrgb(numbers) ? null : buildProfile(numbers), notes: [] };
}

/** True for bytes that `canonicalProfile` itself would write. */
export function isCanonicalProfile(profile: Uint8Array): boolean {
  const numbers = readProfile(profile);
  return numbers !== null && sameBytes(buildProfile(numbers), profile);
}

/** sRGB primaries adapted to D50 (IEC 61966-2-1; the rounded values of the ICC's own sRGB profiles). */
const SRGB: [Xyz, Xyz, Xyz] = [
  [0.4361, 0.2225, 0.0139],
  [0.3851, 0.7169, 0.0971],
  [0.1431, 0.0606, 0.7141],
];

/** Colour without a profile is taken as sRGB, so that profile is dropped when it moves no value by a level. */
function isSrgb(numbers: ProfileNumbers): boolean {
  if (numbers.kind === 'grey') return followsSrgb(numbers.curve);
  const primaries = numbers.colorants.every((xyz, channel) =>
    xyz.every((part, axis) => Math.abs(part / 65536 - SRGB[channel]![axis]!) < 0.0015),
  );
  return primaries && numbers.curves.every(followsSrgb);
}

/** Compared as 8-bit values encoded by IEC 61966-2-1; half a level is below what 8 bits can show. */
function followsSrgb(curve: Curve): boolean {
  return Array.from({ length: 256 }, (_, level) => {
    const linear = valueAt(curve, level / 255);
    const encoded = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055;
    return Math.abs(encoded * 255 - level);
  }).every((difference) => difference < 0.5);
}
