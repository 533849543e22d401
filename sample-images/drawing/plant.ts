/**
 * Plants invented metadata in finished samples, every kind that cameras and viewers leave behind. All names, numbers
 * and places are made up; the place lies in the open sea. Comes in: clean files. Leaves: files full of identity.
 */
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { deflateSync } from 'node:zlib';
import type { ExifTool } from 'exiftool-vendored';
import { frameMakerNote, insertChunks, type TextChunk } from './metadata-bytes.js';

export interface Planted {
  /** The sample patient, as written in the sidecar. */
  patient: { name: string; chart: string; born: string };
  /** As the device wrote it: "2026:02-11 14:31:07" in EXIF form. */
  takenAt: string;
  device: { maker: string; model: string; serial: string; owner: string };
  dentist: string;
  /** 1 to 8; the pixels are stored accordingly. */
  orientation: number;
  caption: string;
}

const place = { 'GPSLatitude#': 1.25, GPSLatitudeRef: 'N', 'GPSLongitude#': 28.5, GPSLongitudeRef: 'W' };

const exifOf = (p: Planted): Record<string, string | number> => ({
  'EXIF:Make': p.device.maker,
  'EXIF:Model': p.device.model,
  'EXIF:Artist': p.dentist,
  'EXIF:Copyright': p.dentist,
  'EXIF:ImageDescription': p.caption,
  'EXIF:HostComputer': 'ROOM-2-SCOPE',
  'EXIF:Software': 'Scope recorder 4.1',
  'EXIF:DateTimeOriginal': p.takenAt,
  'EXIF:CreateDate': p.takenAt,
  'EXIF:ModifyDate': p.takenAt,
  'EXIF:Orientation#': p.orientation,
});

const cameraOf = (p: Planted): Record<string, string | number> => ({
  'EXIF:OwnerName': p.device.owner,
  'EXIF:SerialNumber': p.device.serial,
  'EXIF:LensSerialNumber': `${p.device.serial}-L`,
  'EXIF:LensModel': 'Beam splitter 50:50',
  'EXIF:UserComment': `${p.patient.name}, ${p.patient.chart}`,
  'EXIF:ImageUniqueID': `${p.device.serial}${p.takenAt.replace(/\D/g, '')}`,
  'EXIF:XPAuthor': p.dentist,
  'EXIF:XPComment': `Chart ${p.patient.chart}`,
  'EXIF:GPSLatitude': place['GPSLatitude#'],
  'EXIF:GPSLatitudeRef': place.GPSLatitudeRef,
  'EXIF:GPSLongitude': place['GPSLongitude#'],
  'EXIF:GPSLongitudeRef': place.GPSLongitudeRef,
});

const xmpOf = (p: Planted): Record<string, string | string[]> => ({
  'XMP-iptcExt:PersonInImage': [p.patient.name],
  'XMP-dc:Creator': [p.dentist],
  'XMP-dc:Description': p.caption,
  'XMP-photoshop:City': 'Samplehaven',
  'XMP-aux:OwnerName': p.device.owner,
  'XMP-xmpMM:DocumentID': `xmp.did:${p.device.serial}`,
});

const iptcOf = (p: Planted): Record<string, string | string[]> => ({
  'IPTC:By-line': p.dentist,
  'IPTC:Caption-Abstract': `${p.patient.name}: ${p.caption}`,
  'IPTC:Keywords': [p.patient.chart, 'Room 2'],
  'IPTC:City': 'Samplehaven',
});

const writeTags = async (
  tool: ExifTool,
  bytes: Uint8Array,
  ending: string,
  tags: Record<string, unknown>,
  thumbnail: Uint8Array | null,
): Promise<Buffer> => {
  const folder = await mkdtemp(path.join(tmpdir(), 'plant-'));
  try {
    const file = path.join(folder, `picture.${ending}`);
    await writeFile(file, bytes);
    const writeArgs = ['-overwrite_original', '-m'];
    if (thumbnail !== null) {
      await writeFile(path.join(folder, 'small.jpg'), thumbnail);
      writeArgs.push(`-ThumbnailImage<=${path.join(folder, 'small.jpg')}`);
    }
    await tool.write(file, tags as never, { writeArgs });
    return await readFile(file);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
};

/** A JPEG with EXIF, maker note, GPS, thumbnail, XMP, IPTC, a comment, and bytes after its end. */
export const plantJpeg = async (
  tool: ExifTool,
  bytes: Uint8Array,
  p: Planted,
  thumbnail: Uint8Array,
): Promise<Uint8Array> => {
  const noted = frameMakerNote(
    bytes,
    `SAMPLEWORKS\0operator=${p.dentist};patient=${p.patient.name};sn=${p.device.serial}`,
  );
  const tags = {
    ...exifOf(p),
    ...cameraOf(p),
    ...xmpOf(p),
    ...iptcOf(p),
    Comment: `Room 2, chart ${p.patient.chart}`,
  };
  const written = await writeTags(tool, noted, 'jpg', tags, thumbnail);
  const trailer = `\0\0SAMPLEWORKS-TRAILER {"patient":"${p.patient.name}","born":"${p.patient.born}"}`;
  return Buffer.concat([written, Buffer.from(trailer, 'utf8')]);
};

/** A PNG with eXIf and XMP, text in all three forms, a time, an unknown chunk, and bytes after its end. */
export const plantPng = async (tool: ExifTool, bytes: Uint8Array, p: Planted): Promise<Uint8Array> => {
  const written = await writeTags(tool, bytes, 'png', { ...exifOf(p), ...xmpOf(p) }, null);
  const [year, month, day, hour, minute, second] = p.takenAt.split(/[: ]/).map(Number) as number[];
  const time = Buffer.from([year! >> 8, year! & 255, month!, day!, hour!, minute!, second!]);
  const chunks: TextChunk[] = [
    { type: 'tEXt', data: Buffer.from(`Author\0${p.dentist}`, 'latin1') },
    {
      type: 'zTXt',
      data: Buffer.concat([
        Buffer.from('Comment\0\0', 'latin1'),
        deflateSync(`${p.patient.name}, ${p.patient.chart}`),
      ]),
    },
    { type: 'iTXt', data: Buffer.from(`Title\0\0\0en\0\0${p.patient.name} ${p.patient.born}`, 'utf8') },
    { type: 'tIME', data: time },
    { type: 'swPt', data: Buffer.from(`SAMPLEWORKS ${p.device.serial} ${p.patient.chart}`, 'utf8') },
  ];
  return Buffer.concat([insertChunks(written, chunks), Buffer.from(`sensor log ${p.patient.chart}`, 'utf8')]);
};

/** A TIFF with artist, description, computer, dates and XMP; its pixels stay as they are. */
export const plantTiff = (tool: ExifTool, bytes: Uint8Array, p: Planted): Promise<Uint8Array> =>
  writeTags(
    tool,
    bytes,
    'tif',
    { ...exifOf(p), ...xmpOf(p), 'EXIF:DocumentName': `${p.patient.chart} film` },
    null,
  );
