import { readdirSync } from 'node:fs';
import { deflateRawSync } from 'node:zlib';
import type { FormatName } from '../../src/core/format-name.js';
import { drawColour } from '../fixtures/drawn-pixels.js';
import { exifBlock } from '../fixtures/exif-block.js';
import { codedItem, drawnHeic, exifItem, irot, makeHeic, mimeItem, nclx } from '../fixtures/heic-pieces.js';
import { afterStart, segment } from '../fixtures/jpeg-pieces.js';
import { MARKER } from '../fixtures/markers.js';
import { beforeChunk, iTXt, pngChunk, zTXt } from '../fixtures/png-pieces.js';
import { projectFile, readProjectFile } from '../fixtures/project-file.js';
import { greyFields, makeTiff } from '../fixtures/tiff-pieces.js';
import { riffChunk, withChunks } from '../fixtures/webp-pieces.js';
import { identity, radiograph, slice, still } from '../formats/dicom/copy/drawn-objects.js';
import { BIG, EXPLICIT, encode, fileOf, IMPLICIT } from '../formats/dicom/copy/source-object.js';
import { metaOf } from '../formats/dicom/given/coded-objects.js';
import { drawSamples } from '../formats/samples.js';
import { SOUND, WHOLE } from '../stages/label/sidecar-text.js';

export type SeedKind = Exclude<FormatName, 'DICOMDIR'> | 'YAML';
export const KINDS: readonly SeedKind[] = ['JPEG', 'PNG', 'TIFF', 'WebP', 'HEIC', 'DICOM', 'YAML'];

export interface Seed {
  kind: SeedKind;
  name: string;
  extension: string;
  bytes: Buffer;
}

const EXTENSION: Record<SeedKind, string> = {
  JPEG: 'jpg',
  PNG: 'png',
  TIFF: 'tif',
  WebP: 'webp',
  HEIC: 'heic',
  DICOM: 'dcm',
  YAML: 'yaml',
};

/** Sound files of every kind of coding, with every carrier of metadata; a marker stands wherever text may. */
export async function drawSeeds(): Promise<Seed[]> {
  const plain = (await drawSamples()).map(({ name, format, bytes }) => ({
    kind: format as SeedKind,
    name,
    bytes,
  }));
  const all = [
    ...plain,
    ...(await withMetadata()),
    ...heicFiles(),
    ...dicomFiles(),
    ...codedObjects(),
    ...sidecars(),
  ];
  return all.map((one) => ({ ...one, extension: EXTENSION[one.kind] }));
}

type Drawn = Omit<Seed, 'extension'>;

const exif = exifBlock(
  [
    { tag: 0x13b, type: 2, value: MARKER },
    { tag: 274, type: 3, value: 6 },
  ],
  [
    { tag: 0x9003, type: 2, value: '2026:02:11 09:41:03' },
    { tag: 0x9286, type: 7, value: Buffer.from(`ASCII\0\0\0${MARKER}`) },
    { tag: 0x927c, type: 7, value: Buffer.from(MARKER.repeat(3)) },
  ],
);
const packet = `<x:xmpmeta><rdf:Description DICOM:PatientName="${MARKER}" DICOM:PatientDOB='19840602'/></x:xmpmeta>`;
const iptc = `Photoshop 3.0\x008BIM\x04\x04\0\0\0\x1a\x1c\x02\x50\0\x15${MARKER}`;

async function withMetadata(): Promise<Drawn[]> {
  const picture = drawColour().withIccProfile('p3');
  const [jpeg, progressive, png, webp, moving] = await Promise.all([
    picture.clone().jpeg().toBuffer(),
    picture.clone().jpeg({ progressive: true }).toBuffer(),
    picture.clone().png().toBuffer(),
    picture.clone().webp().toBuffer(),
    drawColour().ensureAlpha(0.5).webp().toBuffer(),
  ]);
  const segments = [
    segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), exif])),
    segment(0xe1, `http://ns.adobe.com/xap/1.0/\0${packet}`),
    segment(0xed, iptc),
    segment(0xfe, MARKER),
  ];
  const chunks = [
    pngChunk('eXIf', exif),
    iTXt('XML:com.adobe.xmp', packet),
    zTXt('Comment', MARKER),
    pngChunk('tEXt', `Comment\0${MARKER}`),
    pngChunk('acTL', '\0\0\0\x02\0\0\0\0'),
  ];
  const pixels = Buffer.alloc(240, 'Pixels of a grey picture');
  const page = greyFields(24, 10, [270, 2, MARKER], [700, 7, [...Buffer.from(packet)]], [65000, 2, MARKER]);
  return [
    { kind: 'JPEG', name: 'all carriers', bytes: Buffer.concat([afterStart(jpeg!, ...segments), jpeg!]) },
    { kind: 'JPEG', name: 'all carriers, progressive', bytes: afterStart(progressive!, ...segments) },
    { kind: 'PNG', name: 'all carriers', bytes: beforeChunk(png!, 'IDAT', ...chunks) },
    { kind: 'TIFF', name: 'all carriers, two pages', bytes: makeTiff([page, page], pixels) },
    {
      kind: 'WebP',
      name: 'all carriers',
      bytes: withChunks(webp!, riffChunk('EXIF', exif), riffChunk('XMP ', packet)),
    },
    { kind: 'WebP', name: 'one frame', bytes: asMoving(moving!) },
  ];
}

/** A still WebP as the only frame of a moving one (RFC 9649, 2.7.1). */
function asMoving(webp: Buffer): Buffer {
  const head = Buffer.alloc(16);
  webp.copy(head, 6, 24, 30);
  const frame = riffChunk('ANMF', Buffer.concat([head, webp.subarray(30)]));
  const file = Buffer.concat([webp.subarray(0, 30), riffChunk('ANIM', Buffer.alloc(6)), frame]);
  // The flag that says so (2.7).
  file[20] = file[20]! | 2;
  return withChunks(file);
}

function heicFiles(): Drawn[] {
  const properties = [...codedItem().properties!, irot(1), nclx(12, 13)];
  const items = [
    codedItem({ properties, name: MARKER }),
    codedItem(),
    exifItem(exif),
    mimeItem('application/rdf+xml', packet),
  ];
  return [
    { kind: 'HEIC', name: 'as encoded', bytes: drawnHeic },
    { kind: 'HEIC', name: 'all carriers, two pictures, turned', bytes: makeHeic(items) },
  ];
}

function dicomFiles(): Drawn[] {
  const objects = { radiograph: radiograph(), slice: slice(), still: still() };
  return Object.entries(objects).flatMap(([name, elements]): Drawn[] => {
    const whole = [...elements, ...identity().filter(({ tag }) => !elements.some((one) => one.tag === tag))];
    const deflated = Buffer.concat([
      metaOf('1.2.840.10008.1.2.1.99'),
      deflateRawSync(encode(whole, EXPLICIT)),
    ]);
    return [
      { kind: 'DICOM', name: `${name}, explicit`, bytes: fileOf(whole, EXPLICIT) },
      { kind: 'DICOM', name: `${name}, implicit`, bytes: fileOf(whole, IMPLICIT) },
      { kind: 'DICOM', name: `${name}, big endian`, bytes: fileOf(whole, BIG) },
      { kind: 'DICOM', name: `${name}, deflated`, bytes: deflated },
      { kind: 'DICOM', name: `${name}, no preamble`, bytes: fileOf(whole, EXPLICIT).subarray(132) },
    ];
  });
}

/** Drawn objects in every coding, by dcmtk 3.6.7 and the codecs' own encoders; the names tell which. */
const codedObjects = (): Drawn[] =>
  readdirSync(projectFile('tests/fuzz/seeds'))
    .sort()
    .map((name) => ({ kind: 'DICOM', name, bytes: readProjectFile(`tests/fuzz/seeds/${name}`) }));

const VISITS = ['2026-02-11 room 2', '2026-02-25 room 2', '2026-03-18 room 1', '2026-03-20 room 1 mistakes'];

/** Anchors that grow, keys that are lists, tags, every kind of quoting. */
const ODD = `a: &a [x, x, x]
b: &b [*a, *a, *a]
c: &c [*b, *b, *b, <<: *a]
? [1, {d: e}]
: !!binary aGVsbG8=
f: !!timestamp 2026-02-11
g: |2-
   h
i: >+
  j

k: "\\u0041\\x41" # l
`;

function sidecars(): Drawn[] {
  const visits = VISITS.map((visit) => readProjectFile(`sample-images/visits/${visit}/visit.yaml`));
  const texts = [SOUND, WHOLE, `${SOUND}---\n${WHOLE}`, ODD + SOUND].map((text) => Buffer.from(text, 'utf8'));
  const wide = Buffer.from(`\ufeff${WHOLE}`, 'utf16le');
  return [...visits, ...texts, wide].map((bytes, index) => ({
    kind: 'YAML',
    name: `sidecar ${index + 1}`,
    bytes,
  }));
}
