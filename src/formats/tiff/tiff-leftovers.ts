import { viewOf } from '../bytes.js';
import { isCanonicalProfile } from '../colour-profile/index.js';

/** Baseline tags strip writes, and the rebuilt profile. */
const ALLOWED = new Set([
  256, 257, 258, 259, 262, 266, 273, 277, 278, 279, 282, 283, 284, 296, 317, 320, 322, 323, 324, 325, 338,
  34675,
]);

const UNIT: Record<number, number> = { 3: 2, 4: 4, 5: 8, 7: 1 };

/** A second walk: one directory of allowed tags, and no byte of the file that nothing points to. */
export function tiffLeftovers(bytes: Uint8Array): string[] {
  const file = viewOf(bytes);
  const little = file[0] === 0x49;
  const u16 = (at: number) => (little ? file.readUInt16LE(at) : file.readUInt16BE(at));
  const u32 = (at: number) => (little ? file.readUInt32LE(at) : file.readUInt32BE(at));
  const found = new Set<string>();
  const count = u16(8);
  let used = 14 + 12 * count;
  const lists: Record<number, number[]> = {};
  for (let at = 10; at < 10 + 12 * count; at += 12) {
    const [tag, type, values] = [u16(at), u16(at + 2), u32(at + 4)];
    const size = (UNIT[type] ?? 0) * values;
    const from = size <= 4 ? at + 8 : u32(at + 8);
    if (size > 4) used += size + (size % 2);
    if (!ALLOWED.has(tag) || size === 0) found.add('tag');
    if (tag === 34675 && !isCanonicalProfile(file.subarray(from, from + size))) found.add('icc');
    if ([273, 279, 324, 325].includes(tag))
      lists[tag] = Array.from({ length: values }, (_, index) => u32(from + 4 * index));
  }
  if (u32(10 + 12 * count) !== 0) found.add('page');
  const offsets = lists[273] ?? lists[324] ?? [];
  (lists[279] ?? lists[325] ?? []).forEach((size, index) => {
    if (offsets[index] !== used) found.add('bytes-outside-strips');
    used += size + (size % 2);
  });
  if (used !== file.length) found.add('bytes-outside-strips');
  return [...found];
}
