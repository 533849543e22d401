import { viewOf } from '../../bytes.js';
import type { CodedHeader } from '../codestream.js';
import type { Unpacked } from './run-codec.js';

/** JPEG Lossless, T.81 process 14. Null for colour of more than 8 bits or with restarts, which the decoder misreads. */
export async function decodeLosslessJpeg(coded: Uint8Array, header: CodedHeader): Promise<Unpacked | null> {
  const bytesPerSample = header.bits > 8 ? 2 : 1;
  const segments = viewOf(coded);
  const colour = header.components === 3;
  if (colour && (bytesPerSample === 2 || segments.indexOf(Buffer.from([0xff, 0xdd])) >= 0)) return null;
  if (pointTransform(segments) !== 0) return null;
  const { Decoder } = await import('jpeg-lossless-decoder-js');
  try {
    const decoder = new Decoder();
    // a buffer of its own, since the decoder counts from the start of the memory behind
    const samples = decoder.decode(new Uint8Array(coded).buffer, 0, coded.length, bytesPerSample);
    // at a broken place it stops and leaves the rest black
    if (decoder.xDim !== header.widthPx || decoder.yDim !== header.heightPx || decoder.yLoc < decoder.yDim)
      return null;
    return {
      bytes: new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength),
      planar: false,
    };
  } catch {
    return null;
  }
}

/** Al of the scan header (T.81, B.2.3): bits cut off the samples, which the decoder would not give back. */
function pointTransform(coded: Buffer): number | null {
  for (let at = 2; at + 4 <= coded.length; at += 2 + coded.readUInt16BE(at + 2)) {
    while (coded[at + 1] === 0xff) at++;
    if (coded[at + 1] === 0xda) return (coded[at + 1 + coded.readUInt16BE(at + 2)] ?? 1) & 0x0f;
  }
  return null;
}
