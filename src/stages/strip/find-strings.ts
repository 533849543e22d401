import type { IdentifyingString } from '../../core/picture-facts.js';
import { findBytes } from './find-bytes.js';

/** Shorter strings stand in any file by chance. */
const SHORTEST = 4;

/**
 * Four given bytes stand somewhere in five megabytes of coded picture once in 900 files; five once in 200,000. So
 * four are looked for only around the picture data.
 */
const SHORTEST_IN_PICTURE_BYTES = 5;

/** Words every file of a format holds; a field that says "Adobe" must not hold each picture of that program. */
const OF_THE_FORMATS = [
  'JFIF',
  'Adobe',
  'ICC_PROFILE',
  'WEBP',
  'RIFF',
  'IHDR',
  'IDAT',
  'IEND',
  'VP8X',
  'mntrRGB XYZ ',
  'mntrGRAYXYZ ',
  'acsp',
  'rebuilt from numbers',
  'none',
  'desc',
  'text',
  'curv',
  // fixed words of a DICOM copy
  'DICM',
  'ORIGINAL',
  'PRIMARY',
  'DERIVED',
  'SECONDARY',
  'AXIAL',
  'LOCALIZER',
  'MONOCHROME1',
  'MONOCHROME2',
  'PALETTE COLOR',
  'FOR PRESENTATION',
  'FOR PROCESSING',
  'LINEAR_EXACT',
  'SIGMOID',
  'IDENTITY',
  'INVERSE',
  'GEOMETRY',
  'FIDUCIAL',
  'DISP',
  'REMOVED',
  'not stated',
  'ISO_10918_1',
  'ISO_14495_1',
  'ISO_15444_15',
  'SCOPELEAF_1',
  'PS3.15 Annex E Basic Profile',
  'kept by allow-list',
  'UIDs keyed',
  'dates removed',
  'Basic Application Confidentiality Profile',
  'Clean Pixel Data Option',
  'teeth, gums and supporting structures',
  'jaw region',
  'maxilla',
  'mandible',
  'supernumerary tooth beside',
  '(ISO 3950)',
  'central incisor region',
  'lateral incisor region',
  'canine region',
  'first premolar region',
  'second premolar region',
  'first molar region',
  'second molar region',
  'third molar region',
];

/** Kinds of identifying strings that stand in the output in any coding; the values themselves are never told. */
export function findStrings(strings: readonly IdentifyingString[], output: Buffer, around: Buffer): string[] {
  const asked = new Map<string, IdentifyingString['kind'][]>();
  for (const { kind, value } of strings)
    for (const piece of piecesOf(kind, value)) {
      if (OF_THE_FORMATS.some((word) => word.includes(piece))) continue;
      asked.set(piece, [...(asked.get(piece) ?? []), kind]);
    }
  const wanted = [...asked].flatMap(([piece, kinds]) => codingsOf(piece).map((bytes) => ({ bytes, kinds })));
  const isLong = ({ bytes }: { bytes: Buffer }): boolean => bytes.length >= SHORTEST_IN_PICTURE_BYTES;
  const inOutput = findBytes(
    output,
    wanted.filter(isLong).map(({ bytes }) => bytes),
  );
  const hits = wanted.filter((one) => (isLong(one) ? inOutput.has(one.bytes) : around.includes(one.bytes)));
  return [...new Set(hits.flatMap(({ kinds }) => kinds))];
}

/** Each line of a text; of names, each part as well. */
function piecesOf(kind: IdentifyingString['kind'], value: string): string[] {
  const lines = value.split(/[\r\n]+/).map((line) => line.trim().slice(0, 80));
  const parts = kind === 'person-name' ? value.split(/[\s^,;]+/) : [];
  return [...lines, ...parts].filter((piece) => [...piece].length >= SHORTEST);
}

function codingsOf(text: string): Buffer[] {
  const little = Buffer.from(text, 'utf16le');
  const codings = [
    Buffer.from(text, 'utf8'),
    Buffer.from(text, 'latin1'),
    little,
    Buffer.from(little).swap16(),
  ];
  return codings.filter((bytes, index) => !codings.slice(0, index).some((other) => other.equals(bytes)));
}
