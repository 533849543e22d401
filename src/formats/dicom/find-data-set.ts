import { inflateRawSync } from 'node:zlib';
import { latin1At, latin1Bytes, startsWith, viewOf } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';
import {
  EXPLICIT_LITTLE,
  IMPLICIT_LITTLE,
  TRANSFER_SYNTAXES,
  type TransferSyntax,
} from './transfer-syntaxes.js';
import { type WalkedElement, walkFileMeta } from './walk-elements.js';

/** A data set larger than this when unpacked is no picture of a tooth. */
const MOST_UNPACKED_BYTES = 134_217_728;
const PREAMBLE_BYTES = 128;

/** Where the data set of a file begins, and how it is written. */
export interface FoundDataSet {
  /** The data set alone, unpacked when it was deflated. */
  bytes: Uint8Array;
  /** The file meta group; places count from the start of the file. Null when there is none. */
  meta: WalkedElement[] | null;
  transferSyntax: string;
  syntax: TransferSyntax;
}

export const hasPreamble = (head: Uint8Array): boolean => startsWith(head, 'DICM', PREAMBLE_BYTES);

/** Media Storage Directory Storage (DICOM PS3.4, table B.5-1): the index of a disc. */
export const DIRECTORY_CLASS = '1.2.840.10008.1.3.10';

/** The file meta group of a file with preamble says it is a DICOMDIR; `head`: at least the first 4 KB. */
export function isDirectory(head: Uint8Array): boolean {
  const uid = latin1Bytes(DIRECTORY_CLASS);
  // Media Storage SOP Class UID, (0002,0002) UI
  const stated = viewOf(head).indexOf(latin1Bytes('\x02\0\x02\0UI'));
  return (
    stated > PREAMBLE_BYTES &&
    viewOf(head)
      .subarray(stated + 8, stated + 8 + uid.length)
      .equals(uid)
  );
}

/**
 * Group 0008 in its first elements, explicit or implicit VR, little endian, with a UID of ISO form among them: a data
 * set by itself, or a file meta group without its preamble. `head`: at least the first 4 KB.
 */
export const startsBare = (head: Uint8Array): boolean => startsWithMeta(head) || startsWithDataSet(head);

/** (0002,0000) UL of four bytes, or (0002,0001) OB of two, as every file meta group begins (PS3.10, 7.1). */
const startsWithMeta = (head: Uint8Array): boolean =>
  startsWith(head, '\x02\0\0\0UL\x04\0') || startsWith(head, '\x02\0\x01\0OB\0\0\x02\0\0\0');

const UID = /^[0-2](?:\.(?:0|[1-9]\d*)){3,}[\0 ]?$/;

function startsWithDataSet(head: Uint8Array): boolean {
  const file = viewOf(head);
  const explicit = isExplicit(head);
  let last = -1;
  for (let at = 0; at + 8 <= file.length && file.readUInt16LE(at) === 8; ) {
    const element = file.readUInt16LE(at + 2);
    const length = explicit ? file.readUInt16LE(at + 6) : file.readUInt32LE(at + 4);
    if (element <= last || element > 0x18 || length > 256) return false;
    const value = latin1At(head, at + 8, length);
    if ((element === 0x16 || element === 0x18) && value.length === length) return UID.test(value);
    last = element;
    at += 8 + length;
  }
  return false;
}

const isExplicit = (head: Uint8Array): boolean => /^[A-Z]{2}$/.test(latin1At(head, 4, 2));

/** Refuses, for `outcomeOf`, a file that does not say how it is written. */
export function findDataSet(file: Uint8Array): FoundDataSet {
  const from = hasPreamble(file) ? PREAMBLE_BYTES + 4 : startsWithMeta(file) ? 0 : null;
  if (from === null) return bareDataSet(file);
  const { elements: meta, end } = walkFileMeta(file, from);
  const stated = meta.find(({ tag }) => tag === 0x00020010);
  if (!stated || stated.length === 0)
    return refuseUnusual('DICOM', 'it does not say how its picture is coded (no transfer syntax)');
  const transferSyntax = latin1At(file, stated.at, stated.length).replace(/[\0 ]+$/, '');
  const syntax = TRANSFER_SYNTAXES.get(transferSyntax);
  if (!syntax) return refuseUnusual('DICOM', 'its picture is coded in a way that is not read here');
  const rest = file.subarray(end);
  return { bytes: syntax.deflated ? unpack(rest) : rest, meta, transferSyntax, syntax };
}

/** Without file meta only the two plain ways of writing are taken for granted; PS3.5, annex A.1 and A.2. */
function bareDataSet(bytes: Uint8Array): FoundDataSet {
  const transferSyntax = isExplicit(bytes) ? EXPLICIT_LITTLE : IMPLICIT_LITTLE;
  return { bytes, meta: null, transferSyntax, syntax: TRANSFER_SYNTAXES.get(transferSyntax)! };
}

/** PS3.5, A.5: a raw deflate stream (RFC 1951), without the frame of zlib. */
function unpack(deflated: Uint8Array): Uint8Array {
  try {
    return inflateRawSync(deflated, { maxOutputLength: MOST_UNPACKED_BYTES });
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ERR_BUFFER_TOO_LARGE')
      return refuseUnusual('DICOM', 'more data than a picture has room for');
    return refuseDamaged('DICOM', 'its compressed data is broken');
  }
}
