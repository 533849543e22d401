/** Bytes that no tool writes for us: a private maker note in EXIF, and chunks of a PNG. */

/** Puts a small EXIF with nothing but a maker note right behind the start of a JPEG (Exif 2.3, tag 927C). */
export const frameMakerNote = (jpeg: Uint8Array, note: string): Buffer => {
  const text = Buffer.from(note.padEnd(8, '\0'), 'utf8');
  // little-endian TIFF: IFD0 with one entry (Exif IFD pointer), Exif IFD with one entry (maker note), then the note
  const exifIfd = 8 + 18;
  const noteAt = exifIfd + 18;
  const tiff = Buffer.alloc(noteAt);
  tiff.write('II', 0, 'latin1');
  tiff.writeUInt16LE(42, 2);
  tiff.writeUInt32LE(8, 4);
  const entry = (at: number, tag: number, type: number, count: number, value: number): void => {
    tiff.writeUInt16LE(1, at);
    tiff.writeUInt16LE(tag, at + 2);
    tiff.writeUInt16LE(type, at + 4);
    tiff.writeUInt32LE(count, at + 6);
    tiff.writeUInt32LE(value, at + 10);
  };
  entry(8, 0x8769, 4, 1, exifIfd);
  entry(exifIfd, 0x927c, 7, text.length, noteAt);
  const body = Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff, text]);
  const head = Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255]);
  return Buffer.concat([jpeg.subarray(0, 2), head, body, jpeg.subarray(2)]);
};

export interface TextChunk {
  type: string;
  data: Buffer;
}

/** CRC-32 as PNG uses it (ISO 3309). */
const crc32 = (bytes: Buffer): number => {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let k = 0; k < 8; k++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
};

/** Inserts chunks right behind IHDR. */
export const insertChunks = (png: Buffer, chunks: readonly TextChunk[]): Buffer => {
  const afterHeader = 8 + 25;
  const framed = chunks.map(({ type, data }) => {
    const named = Buffer.concat([Buffer.from(type, 'latin1'), data]);
    const chunk = Buffer.alloc(named.length + 8);
    chunk.writeUInt32BE(data.length, 0);
    named.copy(chunk, 4);
    chunk.writeUInt32BE(crc32(named), named.length + 4);
    return chunk;
  });
  return Buffer.concat([png.subarray(0, afterHeader), ...framed, png.subarray(afterHeader)]);
};
