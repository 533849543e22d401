import { latin1At, sameBytes, viewOf } from '../bytes.js';
import { isCanonicalProfile } from '../colour-profile/index.js';

/**
 * A second read that shares no code with the first: a straight walk over a file that must consist of the few
 * segments strip writes. Returns what else is there.
 */
export function jpegLeftovers(bytes: Uint8Array): string[] {
  const file = viewOf(bytes);
  const found = new Set<string>();
  const profile: Uint8Array[] = [];
  if (latin1At(file, 0, 2) !== '\xff\xd8') return ['not-a-jpeg'];
  let at = 2;
  while (at + 4 <= file.length && file[at] === 0xff && file[at + 1] !== 0xd9) {
    const marker = file[at + 1]!;
    const end = at + 2 + file.readUInt16BE(at + 2);
    const body = file.subarray(at + 4, end);
    if (marker === 0xe2 && latin1At(body, 0, 12) === 'ICC_PROFILE\0') profile.push(body.subarray(14));
    else if (!isExpected(marker, body)) found.add(`segment-${marker.toString(16)}`);
    at = marker === 0xda ? endOfScan(file, end) : end;
  }
  if (profile.length > 0 && !isCanonicalProfile(Buffer.concat(profile))) found.add('icc');
  if (at !== file.length - 2 || file[at] !== 0xff || file[at + 1] !== 0xd9)
    found.add('bytes-outside-segments');
  return [...found];
}

function isExpected(marker: number, body: Buffer): boolean {
  switch (marker) {
    case 0xe0:
      return body.length === 14 && latin1At(body, 0, 7) === 'JFIF\0\x01\x01' && body.readUInt16BE(12) === 0;
    case 0xee:
      return (
        sameBytes(body.subarray(0, 11), Buffer.from('Adobe\0\x64\0\0\0\0', 'latin1')) && body.length === 12
      );
    case 0xdb:
      return body.length === 65 || body.length === 129;
    case 0xc4:
      return body.length === 17 + body.subarray(1, 17).reduce((sum, count) => sum + count, 0);
    case 0xdd:
      return body.length === 2;
    case 0xda:
      return body.length === 4 + 2 * body[0]!;
    case 0xc0:
    case 0xc1:
    case 0xc2:
      return body.length === 6 + 3 * body[5]!;
    default:
      return false;
  }
}

function endOfScan(file: Buffer, from: number): number {
  let at = file.indexOf(0xff, from);
  while (at >= 0 && at + 1 < file.length) {
    const next = file[at + 1]!;
    if (next !== 0 && (next < 0xd0 || next > 0xd7)) return at;
    at = file.indexOf(0xff, at + 2);
  }
  return file.length;
}
