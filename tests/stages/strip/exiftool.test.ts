import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ExifTool } from 'exiftool-vendored';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { identify } from '../../../src/stages/identify/index.js';
import { strip } from '../../../src/stages/strip/index.js';
import { drawColour, drawGrey16 } from '../../fixtures/drawn-pixels.js';

/**
 * Checked with exiftool, which reads far more kinds of metadata than this project knows. It writes what a camera,
 * a viewer and an editor would write, and reads what is left.
 */
const NAME = 'Rowan Testcase';
const PLANTED = {
  'EXIF:Artist': NAME,
  'EXIF:Copyright': NAME,
  'EXIF:ImageDescription': `Patient: ${NAME}`,
  'EXIF:UserComment': NAME,
  'EXIF:XPTitle': NAME,
  'EXIF:XPComment': NAME,
  'EXIF:OwnerName': NAME,
  'EXIF:SerialNumber': 'SN-004711',
  'EXIF:DateTimeOriginal': '2026:02:11 09:41:03',
  'EXIF:GPSLatitude': 46.5,
  'EXIF:GPSLongitude': 7.4,
  'EXIF:Orientation#': 6,
  'XMP-dc:Creator': NAME,
  'XMP-dc:Description': NAME,
  'XMP-iptcExt:PersonInImage': NAME,
  'XMP-xmpMM:DocumentID': 'uuid-of-rowan',
};
const FOR_JPEG_AND_TIFF = { 'IPTC:By-line': NAME, 'IPTC:Caption-Abstract': NAME, 'IPTC:City': 'Testtown' };

/** What a file may still say: its own structure, the rebuilt profile's numbers, and exiftool's own notes. */
const ALLOWED: Record<string, RegExp> = {
  groups: /^(ExifTool|File|System|Composite|SourceFile|errors|warnings|Error)$/,
  JPEG: /^(JFIF:(JFIFVersion|ResolutionUnit|XResolution|YResolution)|APP14:.*)$/,
  PNG: /^PNG:(ImageWidth|ImageHeight|BitDepth|ColorType|Compression|Filter|Interlace|ProfileName|PixelsPerUnit[XY]|PixelUnits|SRGBRendering|Gamma|BackgroundColor)$/,
  TIFF: /^EXIF:(ImageWidth|ImageHeight|BitsPerSample|Compression|PhotometricInterpretation|StripOffsets|SamplesPerPixel|RowsPerStrip|StripByteCounts|[XY]Resolution|PlanarConfiguration|ResolutionUnit|Predictor|ExtraSamples)$/,
  WebP: /^RIFF:(VP8Version|ImageWidth|ImageHeight|HorizontalScale|VerticalScale|WebP_Flags|AlphaIsUsed|Alpha.*)$/,
  profile:
    /^ICC_Profile:(ProfileCMMType|ProfileVersion|ProfileClass|ColorSpaceData|ProfileConnectionSpace|ProfileDateTime|ProfileFileSignature|PrimaryPlatform|CMMFlags|DeviceManufacturer|DeviceModel|DeviceAttributes|RenderingIntent|ConnectionSpaceIlluminant|ProfileCreator|ProfileID|ProfileDescription|ProfileCopyright|MediaWhitePoint|(Red|Green|Blue)(MatrixColumn|TRC))$/,
};

let exiftool: ExifTool;
let folder = '';
beforeAll(() => {
  exiftool = new ExifTool({ maxProcs: 1, taskTimeoutMillis: 50_000 });
  folder = mkdtempSync(join(tmpdir(), 'scopeleaf-'));
});
afterAll(async () => {
  await exiftool.end();
  rmSync(folder, { recursive: true });
});

const cases: [name: string, format: string, extension: string, draw: () => Promise<Buffer>][] = [
  ['a baseline JPEG', 'JPEG', 'jpg', () => drawColour().jpeg().toBuffer()],
  ['a progressive JPEG', 'JPEG', 'jpg', () => drawColour().jpeg({ progressive: true }).toBuffer()],
  ['a JPEG with a P3 profile', 'JPEG', 'jpg', () => drawColour().withIccProfile('p3').jpeg().toBuffer()],
  ['a PNG of 16 bits', 'PNG', 'png', () => drawGrey16().png().toBuffer()],
  ['a PNG with a P3 profile', 'PNG', 'png', () => drawColour().withIccProfile('p3').png().toBuffer()],
  ['a TIFF of 16 bits', 'TIFF', 'tif', () => drawGrey16().tiff({ compression: 'lzw' }).toBuffer()],
  [
    'a TIFF with a P3 profile',
    'TIFF',
    'tif',
    () => drawColour().withIccProfile('p3').tiff({ compression: 'deflate' }).toBuffer(),
  ],
  ['a lossy WebP', 'WebP', 'webp', () => drawColour().webp().toBuffer()],
  [
    'a WebP with a P3 profile',
    'WebP',
    'webp',
    () => drawColour().withIccProfile('p3').webp({ lossless: true }).toBuffer(),
  ],
];

test.each(cases)(
  'exiftool sees nothing beyond the allowed tags in %s',
  async (_, format, extension, draw) => {
    const source = join(folder, `source.${extension}`);
    writeFileSync(source, await draw());
    const tags = format === 'JPEG' || format === 'TIFF' ? { ...PLANTED, ...FOR_JPEG_AND_TIFF } : PLANTED;
    await exiftool.write(source, tags as never, { writeArgs: ['-overwrite_original'] });
    const planted = JSON.stringify(await exiftool.readRaw(source, { readArgs: ['-G', '-a', '-u', '-U'] }));
    expect(planted.split(NAME).length).toBeGreaterThan(6);

    const bytes = readFileSync(source);
    const facts = await identify(bytes, 'source');
    if (facts.kind !== 'kept') throw new Error(facts.reason.code);
    expect(facts.value.orientation).toBe(6);
    expect(facts.value.takenAt).toBe('2026-02-11T09:41:03');
    // A string found in several fields is listed once a kind.
    const named = facts.value.identifying.filter(
      ({ kind, value }) => kind === 'person-name' && value === NAME,
    );
    expect(named.length).toBe(1);
    const outcome = await strip(bytes, facts.value);
    if (outcome.kind !== 'kept') throw new Error(outcome.reason.code);

    const output = join(folder, `output.${extension}`);
    writeFileSync(output, outcome.value.bytes);
    const left = Object.keys(await exiftool.readRaw(output, { readArgs: ['-G', '-a', '-u', '-U'] }));
    const surplus = left.filter((tag) => {
      const structure = ALLOWED['groups']!.test(tag.split(':')[0]!);
      return !structure && !ALLOWED[format]!.test(tag) && !ALLOWED['profile']!.test(tag);
    });
    expect(surplus).toEqual([]);
    expect(left).not.toContain('File:Comment');
  },
);
