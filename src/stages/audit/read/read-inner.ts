import { formatFor } from '../../../formats/index.js';
import { LIMITS, type Reading, within } from '../reading.js';
import { readDicomText } from './dicom-text.js';
import { readEmbedded } from './embedded.js';
import { isPdf, readPdf } from './pdf/index.js';
import { readPictureFile } from './pictures/index.js';
import { readPlainText, textOf } from './plain-text.js';
import { readStreams, TOO_MUCH, unpack } from './streams.js';
import { isZip, readZip } from './zip.js';

/**
 * One file of any kind, at any depth: its bytes for known terms, then what it is read as. A kind of file that nothing
 * here can open is unread, since nobody can say what stands in it.
 */
export async function readInner(
  reading: Reading,
  bytes: Uint8Array,
  where: string,
  depth: number,
): Promise<void> {
  if (bytes.length === 0) return;
  if (depth > LIMITS.depth) {
    reading.unread(where, { code: 'unusual', format: 'file', what: 'files nested too deep inside it' });
    return;
  }
  if (!reading.enter(where)) return;
  const text = textOf(bytes);
  if (text !== null && !isPdf(bytes)) {
    await readPlainText(reading, text, where, (inner, place) => readInner(reading, inner, place, depth + 1));
    return;
  }
  reading.bytes(within(where, 'bytes'), bytes, { ofProgram: isPdf(bytes) });
  await readAsWhatItIs(reading, bytes, where, depth);
}

async function readAsWhatItIs(
  reading: Reading,
  bytes: Uint8Array,
  where: string,
  depth: number,
): Promise<void> {
  const next = (inner: Uint8Array, place: string) => readInner(reading, inner, place, depth + 1);
  if (isZip(bytes)) {
    await readZip(reading, bytes, where, next);
    return;
  }
  if (isPdf(bytes)) {
    const isBounded = await readPdf(reading, bytes, where, next);
    if (isBounded) readStreams(reading, bytes, where, 0);
    await readEmbedded(bytes, where, ['zip'], next);
    return;
  }
  if (bytes[0] === 0x1f && bytes[1] === 0x8b) {
    await readGzip(reading, bytes, where, next);
    return;
  }
  const format = formatFor(bytes);
  if (format === null) {
    reading.unread(where, { code: 'unknown-format' });
    readStreams(reading, bytes, where, 0);
    await readEmbedded(bytes, where, ['zip', 'jpeg', 'png', 'pdf'], next);
    return;
  }
  if (format.name === 'DICOM' || format.name === 'DICOMDIR') readDicomText(reading, bytes, where);
  await readPictureFile(reading, bytes, where, format);
  readStreams(reading, bytes, where, 0);
  await readEmbedded(bytes, where, ['zip', 'jpeg', 'png', 'pdf'], next);
}

async function readGzip(
  reading: Reading,
  bytes: Uint8Array,
  where: string,
  next: (inner: Uint8Array, place: string) => Promise<void>,
): Promise<void> {
  const inner = unpack(bytes, 'gzip', reading.room);
  if (inner.kind !== 'unpacked') {
    const broken = { code: 'damaged', format: 'gzip', what: 'it cannot be unpacked' } as const;
    reading.unread(where, inner.kind === 'too-much' ? TOO_MUCH : broken);
    return;
  }
  reading.unpacked(inner.unpacked.bytes.length);
  await next(inner.unpacked.bytes, within(where, 'unpacked'));
}
