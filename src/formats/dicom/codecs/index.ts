/**
 * Codecs: one coded frame comes in whose header was checked; its samples leave, or null when the codec found a fault.
 * Each is loaded at its first use and opened anew for each frame. Only ever in a child process with limits.
 */
import type { CodedHeader } from '../codestream.js';
import type { Coding } from '../transfer-syntaxes.js';
import { decodeNatively } from './native-codecs.js';
import { plainJpeg } from './plain-jpeg.js';

import { runCodec, type Unpacked } from './run-codec.js';

/** @param convert colour stored as luminance and two differences is to become red, green and blue */
export async function decodeCoded(
  coding: Exclude<Coding, 'native' | 'rle'>,
  coded: Uint8Array,
  header: CodedHeader,
  convert: boolean,
): Promise<Unpacked | null> {
  switch (coding) {
    case 'jpeg-8':
    case 'jpeg-12': {
      if (header.bits > 8)
        return header.components === 1 ? decodeNatively('decodeJpeg', coded, header) : null;
      const { default: open } = await import('@cornerstonejs/codec-libjpeg-turbo-8bit/decodewasmjs');
      return runCodec(open, 'JPEGDecoder', plainJpeg(coded, header, convert), header);
    }
    case 'jpeg-lossless':
      return decodeNatively('decodeJpeg', coded, header);
    case 'jpeg-ls':
      return decodeNatively('decodeJpegLs', coded, header);
    case 'jpeg-2000': {
      const { default: open } = await import('@cornerstonejs/codec-openjpeg/decodewasmjs');
      return runCodec(open, 'J2KDecoder', coded, header);
    }
    case 'htj2k': {
      const { default: open } = await import('@cornerstonejs/codec-openjph/wasmjs');
      return runCodec(open, 'HTJ2KDecoder', coded, header);
    }
  }
}
