import { viewOf } from '../bytes.js';
import { APP2, ICC_HEAD } from './markers.js';
import type { JpegParts } from './read-jpeg.js';

/** A segment holds at most 65533 bytes; 14 are head, number and count (ICC.1, annex B.4). */
const CHUNK = 65533 - 14;

/** The profile of all APP2 chunks in the order of their numbers; null when there is none, empty when one is missing. */
export function joinProfile(metadata: JpegParts['metadata']): Uint8Array | null {
  const chunks = new Map<number, Uint8Array>();
  let count = 0;
  for (const { carrier, body } of metadata) {
    if (carrier !== 'icc' || body.length < 14) continue;
    chunks.set(body[12]!, body.subarray(14));
    count = Math.max(count, body[13]!);
  }
  if (chunks.size === 0) return null;
  const ordered = Array.from({ length: count }, (_, index) => chunks.get(index + 1));
  return ordered.every((chunk) => chunk !== undefined) ? Buffer.concat(ordered) : new Uint8Array(0);
}

export function profileSegments(profile: Uint8Array): { marker: number; body: Uint8Array }[] {
  const count = Math.ceil(profile.length / CHUNK);
  return Array.from({ length: count }, (_, index) => ({
    marker: APP2,
    body: Buffer.concat([
      Buffer.from(ICC_HEAD, 'latin1'),
      Uint8Array.of(index + 1, count),
      viewOf(profile).subarray(index * CHUNK, (index + 1) * CHUNK),
    ]),
  }));
}
