import { createHash } from 'node:crypto';
import { latin1Bytes } from '../../bytes.js';
import type { StoredPixels } from '../../format.js';
import type { DicomFile } from '../read-dicom.js';
import { isOwnFile, wrapAsFile } from './copy-file.js';
import { keptAnatomy, mouthRegion } from './keep-anatomy.js';
import { keptAttributes } from './kept-attributes.js';
import { keptPalettes, keptTables } from './lookup-tables.js';
import { lossyPast } from './lossy-past.js';
import { isKeyedUid, keyedUid, mapUid } from './map-uid.js';
import { BURNED_IN, marks } from './marks.js';
import {
  COMMON_FILLS,
  classOfCopy,
  INTRA_ORAL,
  modalityOf,
  type ObjectClass,
  SECONDARY_CAPTURE,
  shapeOf,
} from './object-classes.js';
import { type Source, sourceOf, textsOf, wordsOf } from './source-values.js';
import { type PixelModule, pixelModule } from './stored-pixels.js';
import { type CopyElement, text, words } from './write-elements.js';

export interface CopyOptions {
  /** Key of the map from source UIDs to new ones; 32 bytes. */
  uidKey: Uint8Array;
  /** Which frame the pixels are of; counts from 1. */
  frame: number;
}

/**
 * A de-identified copy of one frame: explicit VR little endian, native pixels. It is built up from an allow-list;
 * nothing is carried over because it was not thought of. Says nothing of a search of the pixels: that is `paintCopy`.
 * Deterministic; a copy of a copy is the same copy. Refuses, for `outcomeOf`, palettes and tables that are broken.
 * @param pixels of that frame, as `decode` gives them
 */
export function writeCopy(file: DicomFile, pixels: StoredPixels, options: CopyOptions): Uint8Array {
  const source = sourceOf(file, options.frame);
  const frames = framesOf(source);
  const own = isOwnFile(file);
  const picture = pixelModule(source, pixels);
  const kept = [
    ...keptAttributes(source),
    ...keptAnatomy(source),
    ...intensitySign(source),
    ...lossyPast(source, file.transferSyntax),
    ...keptTables(source, picture.signed),
    ...(picture.photometric === 'PALETTE COLOR' ? keptPalettes(source, picture.signed) : []),
    ...frameOfReference(source, options.uidKey, own),
  ];
  const tags = new Set(kept.flatMap(tagsWithin));
  const objectClass = classOfCopy(source, { tags, frames, picture });
  const uids = newUids(source, pixels, { ...options, frames, own });
  const elements = merge(
    [text(0x00080016, 'UI', objectClass.uid), text(0x00080060, 'CS', modalityOf(source, objectClass))],
    uids.elements,
    marks(),
    picture.elements,
    ofClass(objectClass, kept, picture),
    objectClass.fills,
    COMMON_FILLS,
  );
  return wrapAsFile(elements, objectClass.uid, uids.instance);
}

const tagsWithin = (element: CopyElement): number[] => [
  element.tag,
  ...('items' in element ? element.items.flat().flatMap(tagsWithin) : []),
];

/** The first of each tag wins. */
function merge(...lists: readonly (readonly CopyElement[])[]): CopyElement[] {
  const byTag = new Map<number, CopyElement>();
  for (const element of lists.flat()) if (!byTag.has(element.tag)) byTag.set(element.tag, element);
  return [...byTag.values()];
}

const PLACE = [0x00180050, 0x00200032, 0x00200037, 0x00200052];
const IMAGE_LATERALITY = 0x00200062;
const SHAPE = 0x20500020;
const RESCALE = 0x00281052;
const CALIBRATION = 0x00280a02;
const CT = '1.2.840.10008.5.1.4.1.1.2';

/** What was kept, fitted to the class: without what has no place in it, with what follows from what is there. */
function ofClass(
  objectClass: ObjectClass,
  kept: readonly CopyElement[],
  picture: PixelModule,
): CopyElement[] {
  const { uid } = objectClass;
  const has = (tag: number): boolean => kept.some((element) => element.tag === tag);
  // a shape that contradicts the kind of grey is read in two ways; the display picture does not follow it either
  const stays = keptShape(kept, picture).filter(({ tag }) => uid === CT || !PLACE.includes(tag));
  const capture = uid === SECONDARY_CAPTURE.uid ? [text(0x00080008, 'CS', 'DERIVED', 'SECONDARY')] : [];
  return [
    ...capture,
    ...stays,
    // the standard asks for a description of a calibration; the source's is free text
    ...(has(CALIBRATION) ? [text(0x00280a04, 'LO', 'not stated')] : []),
    // Rescale Type: "unspecified" where it must be said; in a CT image nothing said means Hounsfield units
    ...(has(RESCALE) && uid !== CT ? [text(0x00281054, 'LO', 'US')] : []),
    ...(INTRA_ORAL.includes(uid) ? [mouthRegion()] : []),
    ...(objectClass.isRadiograph ? [text(BURNED_IN, 'CS', 'YES'), text(SHAPE, 'CS', shapeOf(picture))] : []),
    // Laterality: type 2 where the image itself does not say its side (PS3.3, C.7.3.1)
    ...(has(IMAGE_LATERALITY) ? [] : [text(0x00200060, 'CS', '')]),
  ];
}

function keptShape(kept: readonly CopyElement[], picture: PixelModule): CopyElement[] {
  const lawful = latin1Bytes(shapeOf(picture));
  return kept.filter(
    (element) => element.tag !== SHAPE || ('value' in element && lawful.equals(element.value)),
  );
}

/** Pixel Intensity Relationship Sign: 1 or -1, as its two bytes. */
function intensitySign(source: Source): CopyElement[] {
  const [sign] = wordsOf(source, 0x00281041, 'SS');
  return sign === 1 || sign === 0xffff ? [words(0x00281041, 'SS', [sign])] : [];
}

function framesOf(source: Source): number {
  const [stated = '1'] = textsOf(source, 0x00280008, 'IS');
  return /^\d{1,6}$/.test(stated) ? Number(stated) : 1;
}

const uidAt = (source: Source, tag: number): string => textsOf(source, tag, 'UI')[0] ?? '';

/** Well-known frames of reference are the standard's (PS3.6, table A-2) and stay; others get a new name. */
function frameOfReference(source: Source, key: Uint8Array, own: boolean): CopyElement[] {
  const uid = uidAt(source, 0x00200052);
  if (uid === '') return [];
  const wellKnown = /^1\.2\.840\.10008\.1\.4\.[12]\.\d{1,2}$/.test(uid);
  const mapped = own && isKeyedUid(uid) ? uid : wellKnown ? mapUid(key, uid) : keyedUid(key, uid);
  return [text(0x00200052, 'UI', mapped)];
}

/** Study, series and instance under new names; one frame of several is an instance of its own. */
function newUids(
  source: Source,
  pixels: StoredPixels,
  { uidKey, frame, frames, own }: CopyOptions & { frames: number; own: boolean },
): { elements: CopyElement[]; instance: string } {
  const renamed = (tag: number, suffix = ''): string => {
    const uid = uidAt(source, tag);
    if (own && isKeyedUid(uid)) return uid;
    // an object without the name it must have is told by its pixels
    const name = uid === '' ? `${tag}:${digestOf(pixels)}` : uid;
    return keyedUid(uidKey, name + suffix);
  };
  const instance = renamed(0x00080018, frames > 1 ? `:frame ${frame}` : '');
  const elements = [
    text(0x00080018, 'UI', instance),
    text(0x0020000d, 'UI', renamed(0x0020000d)),
    text(0x0020000e, 'UI', renamed(0x0020000e)),
  ];
  return { elements, instance };
}

const digestOf = ({ data }: StoredPixels): string =>
  createHash('sha256')
    .update(new Uint8Array(data.buffer, data.byteOffset, data.byteLength))
    .digest('hex');
