import { latin1At } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';

/** One box of the base media file format (ISO/IEC 14496-12, 4.2): its name, and where its body begins and ends. */
export interface Box {
  type: string;
  from: number;
  to: number;
}

/** More boxes side by side than any picture file has. */
const MOST_BOXES = 5000;

/** The boxes of a stretch of the file, which must fill it. */
export function boxesOf(file: Buffer, from: number, to: number): Box[] {
  const boxes: Box[] = [];
  for (let at = from; at < to; at = boxes.at(-1)!.to) {
    const box = boxAt(file, at, to);
    if (!box) refuseDamaged('HEIC', 'a box runs past the end of the one around it');
    if (boxes.length >= MOST_BOXES) refuseUnusual('HEIC', 'more boxes than any camera writes');
    boxes.push(box);
  }
  return boxes;
}

/** The boxes at the top of the file and what stands behind the last one that can be read. */
export function topBoxes(file: Buffer): { boxes: Box[]; trailing: Buffer } {
  const boxes: Box[] = [];
  let at = 0;
  for (let box = boxAt(file, at, file.length); box; box = boxAt(file, at, file.length)) {
    if (boxes.length >= MOST_BOXES) refuseUnusual('HEIC', 'more boxes than any camera writes');
    boxes.push(box);
    at = box.to;
  }
  return { boxes, trailing: file.subarray(at) };
}

/** Size 0 runs to the end, size 1 is followed by one of 64 bits. Null when it does not fit. */
function boxAt(file: Buffer, at: number, to: number): Box | null {
  if (at + 8 > to) return null;
  const type = latin1At(file, at + 4, 4);
  const short = file.readUInt32BE(at);
  if (short !== 1) {
    const end = short === 0 ? to : at + short;
    return short > 0 && short < 8 ? null : end <= to ? { type, from: at + 8, to: end } : null;
  }
  if (at + 16 > to || file.readUInt16BE(at + 8) !== 0) return null;
  const size = file.readUIntBE(at + 10, 6);
  return size >= 16 && at + size <= to ? { type, from: at + 16, to: at + size } : null;
}

/** Reads numbers of a box's body one after the other; a read past its end means a damaged file. */
export class BoxReader {
  readonly #body: Buffer;
  #at = 0;

  constructor(file: Buffer, { from, to }: Box) {
    this.#body = file.subarray(from, to);
  }

  /** Unsigned, big endian, 0 to 8 bytes; more than 48 bits of value are refused. */
  number(bytes: number): number {
    const at = this.#at;
    this.#at += bytes;
    if (bytes === 0) return 0;
    if (bytes <= 6) return this.#body.readUIntBE(at, bytes);
    if (this.#body.readUIntBE(at, bytes - 6) !== 0) refuseDamaged('HEIC', 'a number is too large');
    return this.#body.readUIntBE(at + bytes - 6, 6);
  }

  /** Version and flags of a full box (ISO/IEC 14496-12, 4.2.2). */
  head(): { version: number; flags: number } {
    return { version: this.number(1), flags: this.number(3) };
  }

  name(): string {
    this.#at += 4;
    return latin1At(this.#body, this.#at - 4, 4);
  }

  /** UTF-8 text up to a zero, or to the end. */
  text(): string {
    const zero = this.#body.indexOf(0, this.#at);
    const end = zero < 0 ? this.#body.length : zero;
    const text = this.#body.toString('utf8', this.#at, end);
    this.#at = Math.min(end + 1, this.#body.length);
    return text;
  }

  rest(): Buffer {
    return this.#body.subarray(this.#at);
  }

  get left(): number {
    return this.#body.length - this.#at;
  }
}
