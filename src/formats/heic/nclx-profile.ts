import { buildProfile } from '../colour-profile/build-profile.js';
import { canonicalProfile, PROFILE_DROPPED } from '../colour-profile/index.js';
import type { Xyz } from '../colour-profile/read-profile.js';
import { refuseUnusual } from '../refusal.js';
import type { MainPicture } from './main-picture.js';

/**
 * Codes of ITU-T H.273. Primaries 1 (BT.709, which sRGB shares), 2 unspecified, 5 to 7 (BT.601, close to it).
 * Transfer 1, 6, 14, 15 (BT.709, 601, 2020: cameras mean sRGB by them), 2 unspecified, 13 sRGB.
 */
const LIKE_SRGB = [1, 2, 5, 6, 7];
const TRANSFERS = [1, 2, 6, 13, 14, 15];
const DISPLAY_P3 = 12;

/** The profile to embed: rebuilt from the file's own, or from the numbers the file gives instead of one. */
export function profileFor({ profile, colour }: MainPicture): {
  profile: Uint8Array | null;
  notes: string[];
} {
  if (profile) return canonicalProfile(profile, 'rgb');
  if (!colour) return { profile: null, notes: [] };
  if (colour.primaries === DISPLAY_P3) return { profile: buildDisplayP3(), notes: [] };
  return { profile: null, notes: LIKE_SRGB.includes(colour.primaries) ? [] : [PROFILE_DROPPED] };
}

/** Held: curves for bright displays (PQ, HLG) and others that would come out far too dark or flat. */
export function checkTransfer({ profile, colour }: MainPicture): void {
  if (!profile && colour && !TRANSFERS.includes(colour.transfer))
    refuseUnusual('HEIC', 'a high dynamic range, which a sheet cannot show');
}

/** Red, green and blue of Display P3, adapted to D50 (values of the ICC's DisplayP3 profile). */
const P3: [Xyz, Xyz, Xyz] = [
  [0.51512, 0.2412, -0.00105],
  [0.29198, 0.69225, 0.04189],
  [0.1571, 0.06657, 0.78407],
].map((xyz) => xyz.map((part) => Math.round(part * 65536))) as [Xyz, Xyz, Xyz];

function buildDisplayP3(): Uint8Array {
  const curve = { kind: 'table' as const, values: srgbCurve() };
  return buildProfile({ kind: 'rgb', colorants: P3, curves: [curve, curve, curve] });
}

/** The curve of IEC 61966-2-1, which Display P3 shares, as 4096 steps of 16 bits. */
function srgbCurve(): Uint16Array {
  return Uint16Array.from({ length: 4096 }, (_, step) => {
    const encoded = step / 4095;
    const linear = encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;
    return Math.round(linear * 65535);
  });
}
