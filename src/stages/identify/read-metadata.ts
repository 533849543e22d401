import type { PictureFacts } from '../../core/picture-facts.js';
import { type MetadataBlock, orientationOf } from '../../formats/index.js';
import { captureTime } from './capture-time.js';
import { collectExif, collectIptc, collectText, collectXmp } from './collect-fields.js';
import { StringCollector } from './collect-strings.js';
import { type ExifFields, readExif } from './read-exif.js';
import { readIptc } from './read-iptc.js';
import { readPrintable, readText } from './read-text.js';
import { readXmp, type XmpValue } from './read-xmp.js';

type Metadata = Pick<
  PictureFacts,
  'orientation' | 'takenAt' | 'device' | 'source' | 'carriers' | 'identifying'
>;

/** Reads every block; what cannot be read is counted as `unreadable` and searched for plain text. */
export async function readMetadata(blocks: readonly MetadataBlock[]): Promise<Metadata> {
  const carriers: Record<string, number> = {};
  const strings = new StringCollector();
  const count = (carrier: string, by: number): void => {
    if (by > 0) carriers[carrier] = (carriers[carrier] ?? 0) + by;
  };
  let exif: ExifFields | null = null;
  let orientation = 1;
  const xmp: XmpValue[] = [];
  for (const block of blocks) {
    if (block.kind === 'exif') {
      const fields = await readExif(block.bytes);
      if (!exif) [exif, orientation] = [fields, orientationOf(block.bytes)];
      countExif(fields, count);
      collectExif(fields, strings);
      if (!fields.readable)
        for (const run of readPrintable(block.bytes)) strings.add('free-text', 'EXIF', run);
    } else if (block.kind === 'xmp') {
      const values = readXmp(readText16(block.bytes));
      xmp.push(...values);
      count(block.carrier, Math.max(1, values.length));
      if (values.length === 0 && block.bytes.length > 0) count('unreadable', 1);
      collectXmp(values, strings);
    } else if (block.kind === 'iptc') {
      const values = readIptc(block.bytes);
      count(block.carrier, Math.max(1, values.length));
      collectIptc(values, strings);
    } else {
      count(block.carrier, 1);
      if (block.kind === 'text') collectText(block, readText(block.bytes), strings);
    }
  }
  return {
    orientation,
    carriers,
    ...deviceOf(exif),
    takenAt: takenAtOf(exif, xmp),
    identifying: strings.all(),
  };
}

/** XMP may be in UTF-16 or 32; packets are longer than the cap on single texts. */
function readText16(bytes: Uint8Array): string {
  const wide = bytes.length > 3 && (bytes[0] === 0 || bytes[1] === 0);
  const text = Buffer.from(bytes.subarray(0, 8_000_000));
  return wide ? text.toString('latin1').replaceAll('\0', '') : text.toString('utf8');
}

function countExif(
  { sections, makerNote, userComment, readable }: ExifFields,
  count: (c: string, n: number) => void,
) {
  const size = (name: string): number => Object.keys(sections[name] ?? {}).length;
  count('exif', size('ifd0') + size('exif') + size('interop') + (userComment ? 1 : 0));
  count('gps', size('gps'));
  count('thumbnail', size('ifd1') > 0 ? 1 : 0);
  count('maker-note', makerNote ? 1 : 0);
  if (!readable) count('unreadable', 1);
}

function deviceOf(exif: ExifFields | null): Pick<Metadata, 'device' | 'source'> {
  const text = (section: string, field: string): string => {
    const value = exif?.sections[section]?.[field];
    return typeof value === 'string' ? value.trim() : '';
  };
  const serial = ['SerialNumber', 'BodySerialNumber', 'CameraSerialNumber'].map((field) =>
    text('exif', field),
  );
  const source = [text('ifd0', 'Make'), text('ifd0', 'Model')].filter(Boolean).join(' ');
  const device = [source, serial.find(Boolean)].filter(Boolean).join(' ');
  return { source: source || null, device: device || null };
}

/** The moment of exposure, else of digitising, else the file's own date, which plain scanners write alone. */
function takenAtOf(exif: ExifFields | null, xmp: XmpValue[]): string | null {
  const at = (section: string, field: string): unknown => exif?.sections[section]?.[field];
  const fromXmp = (name: string): string | null =>
    captureTime(xmp.find((entry) => entry.name === name)?.value);
  return (
    captureTime(at('exif', 'DateTimeOriginal'), at('exif', 'SubSecTimeOriginal')) ??
    captureTime(
      at('exif', 'CreateDate') ?? at('exif', 'DateTimeDigitized'),
      at('exif', 'SubSecTimeDigitized'),
    ) ??
    fromXmp('DateTimeOriginal') ??
    fromXmp('DateCreated') ??
    fromXmp('CreateDate') ??
    captureTime(at('ifd0', 'ModifyDate') ?? at('ifd0', 'DateTime'), at('exif', 'SubSecTime'))
  );
}
