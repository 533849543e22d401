import type { JpegTable } from './tables.js';

/** Bits of the quick table: 2^12 entries of 4 bytes stay in the first cache. */
export const QUICK_BITS = 12;

/**
 * What the next bits of a block are, by those bits; 0 when no code begins so. Packed as bits to pass over, codes and
 * the values behind them (low byte), coefficients to move on (second byte; 64 for the end of the block), and
 * coefficients that must be left for it to hold (third byte).
 */
export interface CodeTable {
  /** By the next 16 bits: one code. */
  one: Int32Array;
  /** By the next 12: as many AC codes as begin and end in them; the last one's value may reach beyond. */
  quick: Int32Array;
}

export const NO_CODES: CodeTable = { one: new Int32Array(65536), quick: new Int32Array(1 << QUICK_BITS) };

export const bitsOf = (entry: number): number => entry & 255;
export const stepOf = (entry: number): number => (entry >> 8) & 255;
export const needOf = (entry: number): number => entry >> 16;

/** Both lookups of a DHT body (ITU-T T.81 B.2.4.2, codes by annex C). */
export function codeTable({ body }: JpegTable): CodeTable {
  const isAc = body[0]! >> 4 === 1;
  const one = new Int32Array(65536);
  /** Code lengths, by the same bits. */
  const lengths = new Uint8Array(65536);
  let code = 0;
  let symbol = 17;
  for (let length = 1; length <= 16; length++) {
    for (let count = body[length]!; count > 0; count--, code++) {
      const from = code << (16 - length);
      const to = from + (1 << (16 - length));
      one.fill(entryOf(isAc, length, body[symbol++]!), from, to);
      lengths.fill(length, from, to);
    }
    code <<= 1;
  }
  return {
    one,
    quick: Int32Array.from({ length: 1 << QUICK_BITS }, (_, bits) => joinCodes(one, lengths, bits, isAc)),
  };
}

/** A DC code stands for the first coefficient; an AC code for a run of zeros and one more, or the rest of the block. */
function entryOf(isAc: boolean, length: number, symbol: number): number {
  if (!isAc) return pack(length + symbol, 1, 1);
  if (symbol === 0) return pack(length, 64, 1);
  const run = (symbol >> 4) + 1;
  return pack(length + (symbol & 15), run, run);
}

const pack = (bits: number, step: number, need: number): number => bits | (step << 8) | (need << 16);

function joinCodes(one: Int32Array, lengths: Uint8Array, bits: number, isAc: boolean): number {
  let [used, step, need] = [0, 0, 0];
  while (used < QUICK_BITS && step < 64) {
    const ahead = (bits << (16 - QUICK_BITS + used)) & 0xffff;
    const entry = one[ahead]!;
    if (entry === 0 || lengths[ahead]! > QUICK_BITS - used || need + needOf(entry) > 64) break;
    used += bitsOf(entry);
    step += stepOf(entry);
    need += needOf(entry);
    if (!isAc) break;
  }
  return pack(used, Math.min(step, 64), need);
}
