/**
 * 16-bit grey for an 8-bit screen by one rule for the whole picture: the value that 0.1 % of all pixels do not
 * exceed becomes black, the value that 99.9 % do not exceed becomes white, linear between, no part treated apart.
 * The percentiles are this project's choice (common practice, no source): they ignore dead pixels and burned-in
 * labels, and leave what is between in proportion.
 */
export const DARK_SHARE = 0.001;
export const BRIGHT_SHARE = 0.999;

export interface GreyRange {
  /** 16-bit value shown as black. */
  black: number;
  /** 16-bit value shown as white; always above `black`. */
  white: number;
}

/** The range by the rule above; the full 16 bits for a picture of one single value. */
export function greyRangeOf(samples: Uint16Array): GreyRange {
  const counts = new Uint32Array(65_536);
  for (let at = 0; at < samples.length; at++) counts[samples[at]!]!++;
  const black = valueAtShare(counts, samples.length, DARK_SHARE);
  const white = valueAtShare(counts, samples.length, BRIGHT_SHARE);
  if (white > black) return { black, white };
  const lowest = counts.findIndex((count) => count > 0);
  const highest = counts.findLastIndex((count) => count > 0);
  return highest > lowest ? { black: lowest, white: highest } : { black: 0, white: 65_535 };
}

/** 8-bit grey: black 0, white 255, rounded to the nearest, beyond them clipped. */
export function mapToEightBits(samples: Uint16Array, range: GreyRange): Uint8Array {
  const table = new Uint8Array(65_536);
  const perStep = 255 / (range.white - range.black);
  for (let value = 0; value < table.length; value++) {
    table[value] = Math.min(255, Math.max(0, Math.round((value - range.black) * perStep)));
  }
  const mapped = new Uint8Array(samples.length);
  for (let at = 0; at < samples.length; at++) mapped[at] = table[samples[at]!]!;
  return mapped;
}

/** The smallest value that at least `share` of all samples do not exceed. */
function valueAtShare(counts: Uint32Array, total: number, share: number): number {
  const wanted = Math.max(1, Math.ceil(total * share));
  let seen = 0;
  for (let value = 0; value < counts.length; value++) {
    seen += counts[value]!;
    if (seen >= wanted) return value;
  }
  return counts.length - 1;
}
