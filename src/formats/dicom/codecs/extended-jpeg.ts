import type { CodedHeader } from '../codestream.js';
import type { Unpacked } from './run-codec.js';

/** JPEG of 12 bits (T.81, process 4), which the library of 8 bits does not read. */
export async function decodeExtendedJpeg(coded: Uint8Array, header: CodedHeader): Promise<Unpacked | null> {
  if (header.components !== 1) return null;
  const { Context, NativeCodecs, log } = await import('dcmjs-codecs').then((loaded) => loaded.default);
  log.disableAll(); // it tells of faults on the console
  try {
    // opened anew: after a trap it decodes sound frames wrongly
    await NativeCodecs.initializeAsync();
    const decoded = NativeCodecs.decodeJpeg(
      new Context({
        width: header.widthPx,
        height: header.heightPx,
        bitsAllocated: 16,
        bitsStored: header.bits,
        samplesPerPixel: 1,
        pixelRepresentation: 0,
        planarConfiguration: 0,
        photometricInterpretation: 'MONOCHROME2',
        encodedBuffer: coded,
      }),
      { convertColorspaceToRgb: false },
    );
    const bytes = decoded.getDecodedBuffer();
    return bytes ? { bytes: bytes.slice(), planar: false } : null;
  } catch {
    return null;
  } finally {
    NativeCodecs.release();
  }
}
