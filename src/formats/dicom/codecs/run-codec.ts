import type { CodedHeader } from '../codestream.js';

/** One decoded frame, samples little endian; null when the codec found anything wrong with it. */
export interface Unpacked {
  bytes: Uint8Array;
  /** Each colour in a plane of its own. */
  planar: boolean;
}

/** What openjpeg says of nearly every file of another writer, and of no consequence (T.800, A.4.2: TNsot). */
const HARMLESS = /TPsot==TNsot/;

/**
 * Decodes with a codec of WebAssembly, opened for this one frame: such a codec never gives memory back, and after a
 * trap it may answer the next, sound frame wrongly. What it prints is a fault; what it throws is a number.
 */
export async function runCodec(
  open: OpenCodec,
  decoderName: string,
  coded: Uint8Array,
  header: CodedHeader,
): Promise<Unpacked | null> {
  let faults = 0;
  const hear = (line: string): void => {
    if (/\[(?:ERROR|WARNING)\]/.test(line) && !HARMLESS.test(line)) faults++;
  };
  try {
    const codec = await open({ print: hear, printErr: hear });
    const Decoder = codec[decoderName] as new () => CodecInstance;
    const decoder = new Decoder();
    decoder.getEncodedBuffer(coded.length).set(coded);
    decoder.decode();
    const { width, height, bitsPerSample, componentCount } = decoder.getFrameInfo();
    const same =
      width === header.widthPx &&
      height === header.heightPx &&
      bitsPerSample === header.bits &&
      componentCount === header.components;
    if (faults > 0 || !same) return null;
    // a copy: the codec's own memory goes with it
    return { bytes: new Uint8Array(decoder.getDecodedBuffer()), planar: false };
  } catch {
    return null;
  }
}
