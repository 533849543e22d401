import { latin1At, viewOf } from '../../../formats/bytes.js';
import { readDicom } from '../../../formats/dicom/read-dicom.js';
import type { WalkedElement } from '../../../formats/dicom/walk-elements.js';
import { type Reading, within } from '../reading.js';

/** Value representations of text (PS3.5, table 6.2-1). */
const TEXT = new Set('AE AS CS DA DS DT IS LO LT PN SH ST TM UC UR UT'.split(' '));
const DATES = new Set(['DA', 'DT']);

/** Roots of UIDs that name no maker and no object of another: the standard's own, and UUIDs (PS3.5, B.2). */
const OWN_ROOTS = /^(?:1\.2\.840\.10008\.|2\.25\.)/;

/**
 * Every text of an object at any depth, with its tag as the place. A date or a person that is filled in is a hit by
 * itself, and so is a UID under the root of whoever made the device.
 */
export function readDicomText(reading: Reading, bytes: Uint8Array, where: string): void {
  const read = readDicom(bytes);
  if (read.kind !== 'kept') {
    reading.unread(where, read.reason);
    return;
  }
  const { elements, meta, bytes: dataSet, file } = read.value;
  readElements(reading, meta ?? [], file, where);
  readElements(reading, elements, dataSet, where);
}

function readElements(
  reading: Reading,
  elements: readonly WalkedElement[],
  bytes: Uint8Array,
  where: string,
): void {
  for (const element of elements) {
    const place = within(where, `DICOM (${hex(element.tag >>> 16)},${hex(element.tag & 0xffff)})`);
    for (const item of element.items ?? []) readElements(reading, item, bytes, place);
    if (element.items || element.fragments || element.tag === 0x7fe00010) continue;
    if (element.tag === CODE_VALUE && isPublicScheme(elements, bytes))
      reading.text(place, textOf(element, bytes), { ofProgram: true });
    else readValue(reading, element, bytes, place);
  }
}

const CODE_VALUE = 0x00080100;
const CODING_SCHEME = 0x00080102;
/** Published schemes (PS3.16, table 8-1), whose codes are long numbers and nobody's. */
const PUBLIC_SCHEMES = new Set(['SCT', 'SRT', 'DCM', 'UCUM']);

function isPublicScheme(beside: readonly WalkedElement[], bytes: Uint8Array): boolean {
  const scheme = beside.find(({ tag }) => tag === CODING_SCHEME);
  return scheme !== undefined && PUBLIC_SCHEMES.has(textOf(scheme, bytes));
}

const textOf = ({ at, length }: WalkedElement, bytes: Uint8Array): string =>
  latin1At(bytes, at, length).replace(/[\0 ]+$/, '');

const LONGEST_UNKNOWN = 4096;

function readValue(reading: Reading, element: WalkedElement, bytes: Uint8Array, place: string): void {
  const raw = textOf(element, bytes);
  const { vr, tag, at, length } = element;
  if (raw === '') return;
  const isUid = vr === 'UI' || (vr === null && /^[012](?:\.\d+){3,}$/.test(raw));
  if (isUid) {
    if (raw.split('\\').some((uid) => !OWN_ROOTS.test(uid))) reading.hit(place, 'uid');
    return;
  }
  const isText = vr === null || vr === 'UN' ? length <= LONGEST_UNKNOWN && isPrintable(raw) : TEXT.has(vr);
  if (!isText) return;
  const utf8 = viewOf(bytes).toString('utf8', at, at + length);
  for (const text of new Set([raw, utf8])) reading.text(place, text);
  if (isPerson(vr, tag) && /\p{L}{2}/u.test(raw) && !isPlaceholder(raw)) reading.hit(place, 'name');
  if (vr !== null && DATES.has(vr) && /[1-9]/.test(raw)) reading.hit(place, 'date');
}

/** PN, or in implicit VR the patient's name and that of the referring physician. */
const isPerson = (vr: string | null, tag: number): boolean =>
  vr === 'PN' || (vr === null && (tag === 0x00100010 || tag === 0x00080090));

const isPlaceholder = (text: string): boolean =>
  /^(?:anonym\w*|de-?identified|none|unknown|removed)[\^=]*$/i.test(text);

const isPrintable = (text: string): boolean => !/(?![\t\n\r])\p{Cc}/u.test(text);

const hex = (value: number): string => value.toString(16).padStart(4, '0').toUpperCase();
