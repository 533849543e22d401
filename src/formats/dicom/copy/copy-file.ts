import { latin1At, latin1Bytes } from '../../bytes.js';
import type { DicomFile } from '../read-dicom.js';
import { EXPLICIT_LITTLE } from '../transfer-syntaxes.js';
import { type CopyElement, text, writeElements } from './write-elements.js';

/** Names this writer (PS3.7, D.3.3.2): 2.25 and a UUID of version 8 made of this project's name. */
const OWN_CLASS = '2.25.337923659006927217321864784447378060111';
const OWN_VERSION = 'SCOPELEAF_1';
const IMPLEMENTATION_CLASS = 0x00020012;

/** A whole file (PS3.10, 7.1): an empty preamble, our own file meta group, and the data set. */
export function wrapAsFile(dataSet: readonly CopyElement[], sopClass: string, instance: string): Buffer {
  const meta = writeElements([
    { tag: 0x00020001, vr: 'OB', value: Uint8Array.of(0, 1) },
    text(0x00020002, 'UI', sopClass),
    text(0x00020003, 'UI', instance),
    text(0x00020010, 'UI', EXPLICIT_LITTLE),
    text(IMPLEMENTATION_CLASS, 'UI', OWN_CLASS),
    text(0x00020013, 'SH', OWN_VERSION),
  ]);
  const length = Buffer.alloc(4);
  length.writeUInt32LE(meta.length);
  return Buffer.concat([
    Buffer.alloc(128),
    latin1Bytes('DICM'),
    writeElements([{ tag: 0x00020000, vr: 'UL', value: length }]),
    meta,
    writeElements(dataSet),
  ]);
}

/** True for a file that says this writer made it. */
export function isOwnFile({ file, meta }: DicomFile): boolean {
  const stated = meta?.find(({ tag }) => tag === IMPLEMENTATION_CLASS);
  return stated !== undefined && latin1At(file, stated.at, stated.length).replace(/\0+$/, '') === OWN_CLASS;
}
