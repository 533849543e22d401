import exifr from 'exifr';
import { type Reading, within } from '../../reading.js';

/** Everything exifr can read, as it stands: no date is converted, no value put into words. */
const EVERYTHING = {
  tiff: true,
  ifd0: {},
  ifd1: true,
  exif: true,
  gps: true,
  interop: true,
  makerNote: true,
  userComment: true,
  xmp: { parse: false },
  icc: true,
  iptc: true,
  jfif: true,
  ihdr: true,
  mergeOutput: false,
  translateKeys: true,
  translateValues: false,
  reviveValues: false,
  sanitize: true,
};

/** Fields that identify by being there, whatever their value looks like. */
const TELLING: Record<string, string> = {
  Artist: 'name',
  OwnerName: 'name',
  CameraOwnerName: 'name',
  HostComputer: 'serial',
  SerialNumber: 'serial',
  BodySerialNumber: 'serial',
  InternalSerialNumber: 'serial',
  LensSerialNumber: 'serial',
  ImageUniqueID: 'serial',
  GPSLatitude: 'location',
  GPSLongitude: 'location',
  GPSDateStamp: 'date',
};

/** EXIF, GPS, IPTC, XMP and colour profile through exifr; nothing to read is no fault. */
export async function readFields(reading: Reading, bytes: Uint8Array, where: string): Promise<void> {
  let fields: unknown;
  try {
    fields = await exifr.parse(Buffer.from(bytes), EVERYTHING as Parameters<typeof exifr.parse>[1]);
  } catch {
    // A block that cannot be parsed is read as text by blocks.ts, and as bytes in any case.
    return;
  }
  walk(reading, fields, within(where, 'metadata'), 0);
}

const DEEPEST = 6;

function walk(reading: Reading, value: unknown, where: string, depth: number): void {
  if (typeof value === 'string') {
    reading.text(where, value);
  } else if (value instanceof Uint8Array) {
    readBinary(reading, value, where);
  } else if (Array.isArray(value)) {
    for (const one of value.slice(0, 1000)) walk(reading, one, where, depth + 1);
  } else if (typeof value === 'object' && value !== null && depth < DEEPEST) {
    for (const [name, one] of Object.entries(value)) {
      const place = `${where} ${/^[\w:-]{1,40}$/.test(name) ? name : 'field'}`;
      const kind = TELLING[name];
      if (kind !== undefined && isFilled(one)) reading.hit(place, kind);
      walk(reading, one, place, depth + 1);
    }
  }
}

const isFilled = (value: unknown): boolean => String(value ?? '').replace(/[\s\0,]/g, '') !== '';

/** User comments and the titles of file managers come as bytes, often UTF-16. */
function readBinary(reading: Reading, value: Uint8Array, where: string): void {
  const raw = Buffer.from(value.buffer, value.byteOffset, value.byteLength);
  reading.bytes(where, raw);
  for (const text of [raw.toString('latin1'), raw.toString('utf16le')]) {
    const run = text.match(/[\x20-\x7e\u00a0-\u052f]{6,}/g) ?? [];
    for (const one of run) reading.text(where, one);
  }
}
