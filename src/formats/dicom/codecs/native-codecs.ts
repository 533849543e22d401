import type { CodedHeader } from '../codestream.js';
import type { Unpacked } from './run-codec.js';

/** Warnings of libjpeg (jerror.h) over which it goes on and fills up the picture with grey. */
const FAULTS = /Corrupt JPEG data|Premature end of JPEG|Inconsistent progression/;

/**
 * JPEG of 12 bits (T.81, process 4) and JPEG Lossless (process 14) by libjpeg, JPEG-LS by CharLS.
 */
export async function decodeNatively(
  method: 'decodeJpeg' | 'decodeJpegLs',
  coded: Uint8Array,
  header: CodedHeader,
): Promise<Unpacked | null> {
  const { Context, NativeCodecs, log } = await import('dcmjs-codecs').then((loaded) => loaded.default);
  let faults = 0;
  log.methodFactory = () => (line: unknown) => {
    if (FAULTS.test(String(line))) faults++;
  };
  log.setLevel('info', false);
  try {
    // opened anew for each frame: after a trap it decodes sound ones wrongly
    await NativeCodecs.initializeAsync({ logCodecsInfo: true });
    const colour = header.components === 3;
    const decoded = NativeCodecs[method](
      new Context({
        width: header.widthPx,
        height: header.heightPx,
        bitsAllocated: header.bits > 8 ? 16 : 8,
        bitsStored: header.bits,
        samplesPerPixel: header.components,
        pixelRepresentation: 0,
        planarConfiguration: 0,
        photometricInterpretation: colour ? 'RGB' : 'MONOCHROME2',
        encodedBuffer: coded,
      }),
      { convertColorspaceToRgb: false },
    );
    const bytes = decoded.getDecodedBuffer();
    if (!bytes || faults > 0) return null;
    return {
      bytes: new Uint8Array(bytes),
      planar: header.planar === true || decoded.getPlanarConfiguration() === 1,
    };
  } catch {
    return null;
  } finally {
    NativeCodecs.release();
  }
}
