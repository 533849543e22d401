import { inflateSync } from 'node:zlib';
import { refuseDamaged, refuseUnusual } from './refusal.js';

/** Unpacks a zlib stream of at most `atMost` bytes. `consumed`: bytes of the input up to the end of the zlib stream (RFC 1950). */
export function inflate(
  format: string,
  data: Uint8Array,
  atMost: number,
): { produced: Uint8Array; consumed: number } {
  try {
    const options = { info: true, maxOutputLength: Math.max(atMost, 1) };
    const { buffer, engine } = inflateSync(data, options) as unknown as {
      buffer: Buffer;
      engine: { bytesWritten: number };
    };
    return { produced: buffer, consumed: engine.bytesWritten };
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : null;
    if (code === 'ERR_BUFFER_TOO_LARGE')
      return refuseUnusual(format, 'more data than the picture has room for');
    return refuseDamaged(format, 'its compressed data is broken');
  }
}
