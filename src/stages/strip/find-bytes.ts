/** The least length of a needle: two bytes are looked at in one step. */
const GRAM = 2;

/**
 * Which of many byte strings stand in a file, in one pass (Wu and Manber, "A fast algorithm for multi-pattern
 * searching", 1994): the two bytes at the end of a window as long as the shortest needle tell how far no needle can
 * begin, mostly the whole window. Needles of less than two bytes are refused.
 */
export function findBytes(file: Buffer, needles: readonly Buffer[]): Set<Buffer> {
  const found = new Set<Buffer>();
  if (needles.length === 0) return found;
  const window = Math.min(...needles.map(({ length }) => length));
  if (window < GRAM) throw new RangeError('a needle is too short');
  const last = window - GRAM;
  const { shifts, ending } = tablesOf(needles, last);
  for (let at = last; at + 1 < file.length; ) {
    const gram = (file[at]! << 8) | file[at + 1]!;
    const shift = shifts[gram]!;
    if (shift === 0)
      for (const needle of ending.get(gram)!)
        if (file.subarray(at - last, at - last + needle.length).equals(needle)) found.add(needle);
    at += shift || 1;
  }
  return found;
}

/** Bytes to move on by the two at the window's end, and the needles that may begin with the window. */
function tablesOf(needles: readonly Buffer[], last: number) {
  const shifts = new Uint8Array(65536).fill(Math.min(last + 1, 255));
  const ending = new Map<number, Buffer[]>();
  for (const needle of needles)
    for (let from = 0; from <= last; from++) {
      const gram = needle.readUInt16BE(from);
      shifts[gram] = Math.min(shifts[gram]!, last - from);
      if (from === last) ending.set(gram, [...(ending.get(gram) ?? []), needle]);
    }
  return { shifts, ending };
}
