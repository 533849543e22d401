/** CRC-32 as PNG uses it (ISO/IEC 15948, annex D). Node's own zlib.crc32 is missing in early 20.x. */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (let index = 0; index < bytes.length; index++) crc = TABLE[(crc ^ bytes[index]!) & 255]! ^ (crc >>> 8);
  return ~crc >>> 0;
}

const TABLE = Int32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? 0xedb88320 ^ (crc >>> 1) : crc >>> 1;
  return crc;
});
