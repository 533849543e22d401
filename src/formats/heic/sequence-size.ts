import { refuseDamaged } from '../refusal.js';

/** Profile, tier and constraints of one layer, then its level (ITU-T H.265, 7.3.3). */
const [PROFILE_BITS, LEVEL_BITS] = [88, 8];

/**
 * Coded width and height of a sequence parameter set (ITU-T H.265, 7.3.2.2): what the decoder will make room for,
 * whatever the boxes around it say.
 */
export function codedSizeOf(unit: Buffer): { widthPx: number; heightPx: number } {
  const bits = new BitReader(unit);
  bits.take(16 + 4);
  const sublayers = bits.take(3);
  bits.skip(1 + PROFILE_BITS + LEVEL_BITS);
  const present = Array.from({ length: sublayers }, () => [bits.take(1), bits.take(1)] as const);
  if (sublayers > 0) bits.skip(2 * (8 - sublayers));
  for (const [profile, level] of present) bits.skip(PROFILE_BITS * profile + LEVEL_BITS * level);
  bits.takeVariable();
  if (bits.takeVariable() === 3) bits.skip(1);
  return { widthPx: bits.takeVariable(), heightPx: bits.takeVariable() };
}

/** Bits of a unit, most significant first; the 3 of each 0 0 3 is no part of them (7.3.1.1). */
class BitReader {
  readonly #bytes: number[] = [];
  #at = 0;

  constructor(unit: Buffer) {
    // The sizes stand within the first hundred bytes.
    const head = unit.subarray(0, 200);
    head.forEach((byte, at) => {
      if (byte !== 3 || head[at - 1] !== 0 || head[at - 2] !== 0) this.#bytes.push(byte);
    });
  }

  skip(count: number): void {
    this.#at += count;
  }

  take(count: number): number {
    let value = 0;
    for (let left = count; left > 0; left--, this.#at++) {
      const byte = this.#bytes[this.#at >> 3];
      if (byte === undefined) refuseDamaged('HEIC', 'the coding of its picture is broken');
      value = 2 * value + ((byte >> (7 - (this.#at & 7))) & 1);
    }
    return value;
  }

  /** Exponential Golomb code (9.2). */
  takeVariable(): number {
    let zeros = 0;
    while (this.take(1) === 0) if (++zeros > 31) refuseDamaged('HEIC', 'the coding of its picture is broken');
    return 2 ** zeros - 1 + this.take(zeros);
  }
}
