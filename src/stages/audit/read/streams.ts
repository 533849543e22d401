import { gunzipSync, inflateRawSync, inflateSync } from 'node:zlib';
import { type Reading, within } from '../reading.js';

interface Unpacked {
  bytes: Buffer;
  /** Bytes of the packed data. */
  consumed: number;
}

export type Unpacking = { kind: 'unpacked'; unpacked: Unpacked } | { kind: 'too-much' } | { kind: 'none' };

const UNPACKERS = { zlib: inflateSync, deflate: inflateRawSync, gzip: gunzipSync } as const;

/** Unpacks the stream that begins at the first byte, whatever follows it. `none`: it is no such stream, or broken. */
export function unpack(data: Uint8Array, how: keyof typeof UNPACKERS, room: number): Unpacking {
  if (room <= 0) return { kind: 'too-much' };
  try {
    const options = { info: true, maxOutputLength: room };
    const { buffer, engine } = UNPACKERS[how](data, options) as unknown as {
      buffer: Buffer;
      engine: { bytesWritten: number };
    };
    return { kind: 'unpacked', unpacked: { bytes: buffer, consumed: engine.bytesWritten } };
  } catch (error) {
    const tooMuch = error instanceof Error && 'code' in error && error.code === 'ERR_BUFFER_TOO_LARGE';
    return { kind: tooMuch ? 'too-much' : 'none' };
  }
}

/** A stream this small holds no word. */
const LEAST_BYTES = 4;

/**
 * Every zlib and gzip stream wherever it begins, e.g. those of PDF and PNG, searched for known terms. One that is cut
 * off or broken gives what can still be unpacked.
 */
export function readStreams(reading: Reading, bytes: Uint8Array, where: string, depth: number): void {
  if (depth > DEEPEST) return;
  let number = 0;
  for (const { at, how } of startsIn(bytes)) {
    const inner = unpackLoosely(bytes.subarray(at), how, reading.room);
    if (inner === 'too-much') {
      reading.unread(within(where, `packed data at byte ${at}`), TOO_MUCH);
      continue;
    }
    if (inner === null || inner.length < LEAST_BYTES) continue;
    number += 1;
    reading.unpacked(inner.length);
    const place = within(where, `packed data ${number}`);
    reading.bytes(place, inner, { ofProgram: true });
    readStreams(reading, inner, place, depth + 1);
  }
}

const DEEPEST = 3;

export const TOO_MUCH = {
  code: 'unusual',
  format: 'file',
  what: 'it unpacks to more than can be read',
} as const;

/** Places of two bytes that may begin a zlib stream (RFC 1950, 2.2), and of gzip (RFC 1952, 2.3). */
function* startsIn(bytes: Uint8Array): Generator<{ at: number; how: 'zlib' | 'gzip' }> {
  let past = 0;
  for (let at = 0; at + 6 < bytes.length; at += 1) {
    const first = bytes[at]!;
    const second = bytes[at + 1]!;
    if (first === 0x1f && second === 0x8b && bytes[at + 2] === 8) yield { at, how: 'gzip' };
    if ((first & 0x0f) !== 8 || first > 0x78 || (second & 0x20) !== 0) continue;
    if (((first << 8) | second) % 31 !== 0 || at < past) continue;
    // The type of the first block may be 0, 1 or 2 (RFC 1951, 3.2.3).
    if ((bytes[at + 2]! & 0x06) === 0x06) continue;
    yield { at, how: 'zlib' };
    past = at + 1;
  }
}

export function unpackLoosely(
  data: Uint8Array,
  how: 'zlib' | 'gzip',
  room: number,
): Buffer | 'too-much' | null {
  const whole = unpack(data, how, room);
  if (whole.kind === 'unpacked') return whole.unpacked.bytes;
  if (whole.kind === 'too-much') return 'too-much';
  try {
    // Z_SYNC_FLUSH: no complaint about an end that is missing.
    const part = UNPACKERS[how](data, { finishFlush: 2, maxOutputLength: Math.max(room, 1) });
    return part.length > LEAST_IF_CUT ? part : null;
  } catch {
    return null;
  }
}

/** Chance gives a few bytes from almost anything. */
const LEAST_IF_CUT = 16;
