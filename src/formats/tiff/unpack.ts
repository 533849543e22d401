/**
 * Unpacks one strip or tile. Each returns exactly `expected` bytes and how many bytes of the input carry them, or
 * null when the data is broken or runs over.
 */
export interface Unpacked {
  data: Uint8Array;
  consumed: number;
}

/** PackBits (TIFF 6.0, section 9). */
export function unpackBits(input: Uint8Array, expected: number): Unpacked | null {
  const data = new Uint8Array(expected);
  let filled = 0;
  let at = 0;
  while (filled < expected) {
    const head = input[at++];
    if (head === undefined) return null;
    if (head === 128) continue;
    const count = head < 128 ? head + 1 : 257 - head;
    const used = head < 128 ? count : 1;
    if (filled + count > expected || at + used > input.length) return null;
    if (head < 128) data.set(input.subarray(at, at + count), filled);
    else data.fill(input[at]!, filled, filled + count);
    filled += count;
    at += used;
  }
  return { data, consumed: at };
}

const CLEAR = 256;
const END = 257;
const FIRST_FREE = 258;

/** LZW (TIFF 6.0, section 13): codes of 9 to 12 bits, most significant bit first, widths one code early. */
export function unpackLzw(input: Uint8Array, expected: number): Unpacked | null {
  const data = new Uint8Array(expected);
  // A code's text is a run of the output: where it starts, and how long it is.
  const start = new Int32Array(4097);
  const length = new Int32Array(4097);
  const codes = new CodeReader(input);
  let [filled, free, previous] = [0, FIRST_FREE, -1];
  while (filled < expected) {
    const code = codes.next(free);
    if (code < 0 || code === END) return null;
    if (code === CLEAR) {
      free = FIRST_FREE;
      previous = -1;
      continue;
    }
    if (previous < 0 ? code > 255 : code > free || code === CLEAR) return null;
    const at = filled;
    if (previous >= 0) {
      // The new text is the previous one and one byte more; both already lie at the end of the output.
      if (free > 4095) return null;
      start[free] = at - (previous < 256 ? 1 : length[previous]!);
      length[free] = (previous < 256 ? 1 : length[previous]!) + 1;
      free++;
    }
    const size = code < 256 ? 1 : length[code]!;
    if (filled + size > expected) return null;
    if (code < 256) data[filled++] = code;
    else for (let from = start[code]!, left = size; left > 0; left--) data[filled++] = data[from++]!;
    previous = code;
  }
  return { data, consumed: codes.endWith(free) };
}

class CodeReader {
  #bit = 0;

  constructor(readonly input: Uint8Array) {}

  /** The next code, or -1 at the end of the input. */
  next(free: number): number {
    const width = widthAt(free);
    if (this.#bit + width > this.input.length * 8) return -1;
    const at = this.#bit >> 3;
    const window = (this.input[at]! << 16) | ((this.input[at + 1] ?? 0) << 8) | (this.input[at + 2] ?? 0);
    const code = (window >> (24 - (this.#bit & 7) - width)) & ((1 << width) - 1);
    this.#bit += width;
    return code;
  }

  /** Bytes used, with the end code (and a clear code before it) when they follow. */
  endWith(free: number): number {
    const used = this.#bit;
    const after = [free + 1, free].map((slot) => {
      this.#bit = used;
      let code = this.next(slot);
      if (code === CLEAR) code = this.next(FIRST_FREE);
      return code === END ? this.#bit : 0;
    });
    return Math.ceil((after.find((bit) => bit > 0) ?? used) / 8);
  }
}

/** Decoders are one entry behind the encoder, hence 511 and not 512. */
const widthAt = (free: number): number => (free < 511 ? 9 : free < 1023 ? 10 : free < 2047 ? 11 : 12);
