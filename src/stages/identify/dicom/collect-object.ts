import type { TextDecoder } from 'node:util';
import type { IdentifyingString } from '../../../core/picture-facts.js';
import { type DicomFile, everyElement, type WalkedElement } from '../../../formats/dicom/index.js';
import { StringCollector } from '../collect-strings.js';
import { readPrintable } from '../read-text.js';
import { readWith } from './character-sets.js';
import { FIELD_NAMES, fieldNumber } from './field-names.js';

/** A longer text is no name; its beginning is read. */
const MOST_BYTES = 65_536;

/** VRs of words (PS3.5, table 6.2-1); codes, decimals, integers and times name nobody and stand in every file. */
const TEXTS = new Set(['AE', 'AS', 'DA', 'DT', 'LO', 'LT', 'PN', 'SH', 'ST', 'UC', 'UI', 'UR', 'UT']);
/** Bytes of unknown kind, in which a text may stand. */
const OPAQUE = new Set(['OB', 'UN', 'OW']);
/** Picture data, overlays, and tables of greys and palettes: samples, no words. */
const isSamples = (tag: number): boolean =>
  tag >>> 16 === 0x7fe0 ||
  (tag & 0xff00ffff) >>> 0 === 0x60003000 ||
  tag === 0x00283006 ||
  tag >>> 8 === 0x002812;

/** Strings that may identify, those of named fields first: their number is capped. */
export function collectObject(file: DicomFile, decoders: readonly TextDecoder[]): IdentifyingString[] {
  const strings = new StringCollector();
  const elements = [...everyElement(file.elements)].filter(
    ({ items, length, fragments }) => !items && !fragments && length > 0,
  );
  const named = elements.filter(({ tag }) => FIELD_NAMES.has(tag));
  const free = elements.filter(({ tag }) => !FIELD_NAMES.has(tag) && !isSamples(tag));
  const patient = named.filter(({ tag }) => FIELD_NAMES.get(tag)?.kind !== 'other');
  for (const element of [...patient, ...named]) addNamed(file, element, decoders, strings);
  for (const element of free) addFree(file.bytes, element, decoders, strings);
  for (const { tag, vr, at, length } of file.meta ?? [])
    if (vr === 'AE' || vr === 'UR' || tag === 0x00020003 || tag === 0x00020102)
      addFree(file.file, { tag, vr, at, length, items: null, fragments: null }, decoders, strings);
  return strings.all();
}

const startOf = (bytes: Uint8Array, { at, length }: WalkedElement): Uint8Array =>
  bytes.subarray(at, at + Math.min(length, MOST_BYTES));

/** Values of one field are parted by a backslash (PS3.5, 6.4). */
function addNamed(
  { bytes }: DicomFile,
  element: WalkedElement,
  decoders: readonly TextDecoder[],
  strings: StringCollector,
): void {
  const field = FIELD_NAMES.get(element.tag)!;
  for (const value of readWith(decoders, startOf(bytes, element)).split('\\'))
    if (/[\p{L}\p{N}]/u.test(value)) strings.add(field.kind, field.name, value);
}

function addFree(
  bytes: Uint8Array,
  element: WalkedElement,
  decoders: readonly TextDecoder[],
  strings: StringCollector,
): void {
  const { tag, vr } = element;
  const value = startOf(bytes, element);
  if (vr !== null && OPAQUE.has(vr)) {
    for (const run of readPrintable(value)) addText(tag, run, strings);
    return;
  }
  if (vr !== null && !TEXTS.has(vr)) return;
  const text = readWith(decoders, value);
  // implicit VR: a value of bytes is told by its unprintable ones
  if (vr === null && /[\p{Cc}\ufffd]/u.test(text.replace(/[\r\n\t\f]/g, ''))) {
    for (const run of readPrintable(value)) addText(tag, run, strings);
    return;
  }
  for (const one of vr === 'LT' || vr === 'ST' || vr === 'UT' ? [text] : text.split('\\'))
    addText(tag, one, strings);
}

const UID = /^[0-2](?:\.\d+){3,}$/;
const DECIMAL = /^[-+\d.eE]+$/;

/** UIDs of the standard and short numbers say nothing of anyone. */
function addText(tag: number, text: string, strings: StringCollector): void {
  const value = text.trim();
  if (UID.test(value)) {
    if (!value.startsWith('1.2.840.10008.')) strings.add('other', 'DICOM UID', value);
  } else if (DECIMAL.test(value)) {
    if (/^\d{6,}$/.test(value)) strings.add('other', fieldNumber(tag), value);
  } else if (/\p{L}/u.test(value)) strings.add('free-text', fieldNumber(tag), value);
}
