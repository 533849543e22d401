import { constants, deflateSync } from 'node:zlib';

/** PNG colour types (PNG third edition, table 8) and how many samples a pixel has. */
const SAMPLES = { 0: 1, 2: 3, 4: 2, 6: 4 } as const;

export interface PngPicture {
  widthPx: number;
  heightPx: number;
  bitDepth: 1 | 8 | 16;
  colourType: keyof typeof SAMPLES;
}

/** A PNG written here byte by byte, so that what a decoder gives can be told from what was put in. */
export function writePng(picture: PngPicture, samples: ArrayLike<number>): Buffer {
  const perRow = picture.widthPx * SAMPLES[picture.colourType];
  const bytesEach = picture.bitDepth === 16 ? 2 : 1;
  const rows = Buffer.alloc(picture.heightPx * (1 + perRow * bytesEach));
  for (let row = 0, at = 0; row < picture.heightPx; row++) {
    at++; // filter type 0
    for (let column = 0; column < perRow; column++, at += bytesEach) {
      const value = samples[row * perRow + column]!;
      if (bytesEach === 2) rows.writeUInt16BE(value, at);
      else rows[at] = value;
    }
  }
  return assemble(picture, deflateSync(rows));
}

/** A sound PNG of one-bit zeros, of any size, that packs to almost nothing. */
export function writeBomb(widthPx: number, heightPx: number): Buffer {
  const total = heightPx * (1 + Math.ceil(widthPx / 8));
  const block = Buffer.alloc(1_000_000);
  const whole = deflateSync(block, { finishFlush: constants.Z_FULL_FLUSH });
  const header = whole.subarray(0, 2);
  const repeated = whole.subarray(2);
  const rest = deflateSync(Buffer.alloc(total % block.length)).subarray(2, -4);
  // Adler-32 of zeros (RFC 1950): the sum stays 1, the sum of sums is the length.
  const check = Buffer.alloc(4);
  check.writeUInt32BE(((total % 65_521) * 65_536 + 1) >>> 0);
  const count = Math.floor(total / block.length);
  const data = Buffer.concat([header, ...Array<Buffer>(count).fill(repeated), rest, check]);
  return assemble({ widthPx, heightPx, bitDepth: 1, colourType: 0 }, data);
}

function assemble({ widthPx, heightPx, bitDepth, colourType }: PngPicture, data: Buffer): Buffer {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(widthPx, 0);
  header.writeUInt32BE(heightPx, 4);
  header[8] = bitDepth;
  header[9] = colourType;
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]);
  return Buffer.concat([
    signature,
    chunk('IHDR', header),
    chunk('IDAT', data),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const framed = Buffer.alloc(body.length + 8);
  framed.writeUInt32BE(data.length, 0);
  body.copy(framed, 4);
  framed.writeUInt32BE(crc32(body), body.length + 4);
  return framed;
}

/** CRC-32 as in PNG third edition, annex D. */
function crc32(bytes: Buffer): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}
