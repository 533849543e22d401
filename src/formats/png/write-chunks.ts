import { deflateSync } from 'node:zlib';
import { latin1Bytes, viewOf } from '../bytes.js';
import { crc32 } from './crc.js';
import { SIGNATURE } from './read-png.js';

export const PNG_SIGNATURE = latin1Bytes(SIGNATURE);

/** Length, name, data and checksum (ISO/IEC 15948, 5.3). */
export function pngChunk(name: string, data: Uint8Array): Uint8Array {
  const bytes = Buffer.alloc(12 + data.length);
  bytes.writeUInt32BE(data.length, 0);
  bytes.write(name, 4, 'latin1');
  viewOf(data).copy(bytes, 8);
  bytes.writeUInt32BE(crc32(bytes.subarray(4, 8 + data.length)), 8 + data.length);
  return bytes;
}

/** The one name and packing under which strip writes profiles. */
export const profileChunk = (profile: Uint8Array): Uint8Array =>
  pngChunk('iCCP', Buffer.concat([latin1Bytes('icc\0\0'), deflateSync(profile, { level: 9 })]));
