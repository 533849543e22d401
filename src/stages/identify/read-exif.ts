import exifr from 'exifr';

/** EXIF fields by section (`ifd0`, `exif`, `gps`, `ifd1`, `interop`), raw: no date is converted. */
export interface ExifFields {
  sections: Record<string, Record<string, unknown>>;
  makerNote: Uint8Array | null;
  userComment: Uint8Array | null;
  readable: boolean;
}

const OPTIONS = {
  tiff: true,
  ifd0: {},
  ifd1: true,
  exif: true,
  gps: true,
  interop: true,
  makerNote: true,
  userComment: true,
  xmp: false,
  icc: false,
  iptc: false,
  jfif: false,
  ihdr: false,
  mergeOutput: false,
  translateKeys: true,
  translateValues: false,
  reviveValues: false,
  sanitize: true,
};

/** Reads a TIFF file or EXIF block. One broken field costs exifr the rest; the caller then looks for plain text. */
export async function readExif(block: Uint8Array): Promise<ExifFields> {
  const parsed = await parse(block);
  const sections: ExifFields['sections'] = {};
  for (const [name, fields] of Object.entries(parsed ?? {}))
    if (['ifd0', 'exif', 'gps', 'ifd1', 'interop'].includes(name) && isRecord(fields))
      sections[name] = fields;
  return {
    sections,
    makerNote: bytesOf(parsed?.['makerNote']),
    userComment: bytesOf(parsed?.['userComment']),
    readable: parsed !== null && !('errors' in parsed),
  };
}

/** exifr throws on some malformed blocks and collects `errors` on others. */
async function parse(block: Uint8Array): Promise<Record<string, unknown> | null> {
  try {
    const parsed: unknown = await exifr.parse(Buffer.from(block), OPTIONS);
    return isRecord(parsed) ? parsed : null;
  } catch {
    return null;
  }
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !(value instanceof Uint8Array) && !Array.isArray(value);

const bytesOf = (value: unknown): Uint8Array | null => (value instanceof Uint8Array ? value : null);
