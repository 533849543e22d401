import { viewOf } from '../../bytes.js';
import type { CodedHeader } from '../codestream.js';

const SOI_BYTES = 2;

/** Adobe's APP14 with its colour transform in the last byte: 0 none, 1 luminance and differences. */
const colourMarker = (convert: boolean): Buffer =>
  Buffer.concat([
    Buffer.from([0xff, 0xee, 0, 14]),
    Buffer.from('Adobe\0\x64\0\0\0\0', 'latin1'),
    Buffer.of(convert ? 1 : 0),
  ]);

/**
 * The same frame without application segments and comments, and for colour with one that says what the object says
 * of its colours. Otherwise the decoder guesses by the segments, which DICOM bids to ignore (PS3.5, 8.2.1).
 */
export function plainJpeg(coded: Uint8Array, header: CodedHeader, convert: boolean): Uint8Array {
  const file = viewOf(coded);
  const parts: Uint8Array[] = [file.subarray(0, SOI_BYTES)];
  if (header.components === 3) parts.push(colourMarker(convert));
  let at = SOI_BYTES;
  while (at + 4 <= file.length) {
    const marker = file.readUInt16BE(at);
    if (marker === 0xffff) {
      at++;
      continue;
    }
    const end = at + 2 + file.readUInt16BE(at + 2);
    const dropped = (marker >= 0xffe0 && marker <= 0xffef) || marker === 0xfffe;
    if (marker === 0xffda) break;
    if (!dropped) parts.push(file.subarray(at, end));
    at = end;
  }
  parts.push(file.subarray(at));
  return Buffer.concat(parts);
}
