import { refuseDamaged, refuseUnusual } from '../../refusal.js';
import { findElement, itemSource, type Source, textsOf, wordsOf } from './source-values.js';
import { type CopyElement, sequence, text, words } from './write-elements.js';

const MODALITY_LUT = 0x00283000;
const VOI_LUT = 0x00283010;
const LUT_DESCRIPTOR = 0x00283002;
const LUT_TYPE = 0x00283004;
const LUT_DATA = 0x00283006;
const PALETTE_DESCRIPTORS = [0x00281101, 0x00281102, 0x00281103];
const PALETTE_DATA = [0x00281201, 0x00281202, 0x00281203];
const SEGMENTED_DATA = [0x00281221, 0x00281222, 0x00281223];

/** Modality and VOI LUT Sequence (PS3.3, C.11.1 and C.11.2): numbers only, without their explanations. */
export function keptTables(source: Source, signed: boolean): CopyElement[] {
  const modality = itemsOf(source, MODALITY_LUT).slice(0, 1);
  const voi = itemsOf(source, VOI_LUT);
  return [
    ...(modality.length > 0
      ? [
          sequence(
            MODALITY_LUT,
            ...modality.map((item) => [...table(item, signed), text(LUT_TYPE, 'LO', lutType(item))]),
          ),
        ]
      : []),
    ...(voi.length > 0 ? [sequence(VOI_LUT, ...voi.map((item) => table(item, signed)))] : []),
  ];
}

/** A window to choose from is a handful; more are no part of a picture. */
const MOST_TABLES = 16;

const itemsOf = (source: Source, tag: number): Source[] =>
  (findElement(source, tag)?.items ?? []).slice(0, MOST_TABLES).map((item) => itemSource(source, item));

/** PS3.3, C.11.1.1.2; "unspecified" for a word that is not of its list. */
function lutType(item: Source): string {
  const [type = ''] = textsOf(item, LUT_TYPE, 'LO');
  return ['OD', 'HU', 'US'].includes(type) ? type : 'US';
}

const table = (item: Source, signed: boolean): CopyElement[] =>
  tableOf(item, LUT_DESCRIPTOR, LUT_DATA, signed);

/** The three palettes of PALETTE COLOR (PS3.3, C.7.6.3.1.5 and 6). */
export function keptPalettes(source: Source, signed: boolean): CopyElement[] {
  if (SEGMENTED_DATA.some((tag) => findElement(source, tag))) refuseUnusual('DICOM', 'a palette in segments');
  return PALETTE_DESCRIPTORS.flatMap((tag, at) => tableOf(source, tag, PALETTE_DATA[at]!, signed));
}

/** Descriptor and data, whose lengths must agree, so that nothing stands behind a table. */
function tableOf(source: Source, descriptorTag: number, dataTag: number, signed: boolean): CopyElement[] {
  const descriptor = wordsOf(source, descriptorTag, 'US');
  const [count = 0, first = 0, bits = 0] = descriptor;
  // 0 stands for 65536, which has no place in a short
  const entries = count === 0 ? 65_536 : count;
  if (descriptor.length !== 3 || bits < 1 || bits > 16)
    refuseDamaged('DICOM', 'a table of grey values is broken');
  const data = entriesOf(wordsOf(source, dataTag, 'OW'), entries, bits);
  // the first value mapped has the sign of the pixels; as a positive number it is the same in both
  const vr = signed && first > 0x7fff ? 'SS' : 'US';
  return [words(descriptorTag, vr, [count, first, bits]), words(dataTag, 'OW', data)];
}

/** One word an entry; tables of 8 bits may also come packed, two entries a word, the lower byte first. */
function entriesOf(data: readonly number[], entries: number, bits: number): number[] {
  if (data.length === entries) return [...data];
  if (bits > 8 || data.length !== Math.ceil(entries / 2))
    return refuseDamaged('DICOM', 'a table of grey values is broken');
  return data.flatMap((word) => [word & 0xff, word >>> 8]).slice(0, entries);
}
