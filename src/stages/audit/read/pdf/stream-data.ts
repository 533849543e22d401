import { decodePDFRawStream, PDFArray, PDFName, PDFNumber, PDFRawStream } from 'pdf-lib';
import { unpackLoosely } from '../streams.js';

export interface StreamData {
  bytes: Uint8Array;
  /** The filter that is left: DCTDecode, JPXDecode ...; null when nothing is. */
  coded: string | null;
}

const FLATE = new Set(['FlateDecode', 'Fl']);
const BYTEWISE: Record<string, string> = {
  ASCIIHexDecode: 'ASCIIHexDecode',
  AHx: 'ASCIIHexDecode',
  ASCII85Decode: 'ASCII85Decode',
  A85: 'ASCII85Decode',
  LZWDecode: 'LZWDecode',
  LZW: 'LZWDecode',
  RunLengthDecode: 'RunLengthDecode',
  RL: 'RunLengthDecode',
};

/** A stream's data behind its filters, up to the first that codes a picture; null when it unpacks to too much. */
export function dataOf(stream: PDFRawStream, room: number): StreamData | null {
  let bytes: Uint8Array = stream.contents;
  for (const name of filtersOf(stream)) {
    if (FLATE.has(name)) {
      const inner = unpackLoosely(bytes, 'zlib', room);
      if (inner === 'too-much') return null;
      bytes = inner ?? new Uint8Array();
      continue;
    }
    const known = BYTEWISE[name];
    if (known === undefined) return { bytes, coded: name };
    bytes = decodeBytewise(stream, known, bytes);
    if (bytes.length > room) return null;
  }
  return { bytes, coded: null };
}

export function filtersOf({ dict }: PDFRawStream): string[] {
  const filter = dict.lookup(PDFName.of('Filter')) ?? dict.lookup(PDFName.of('F'));
  if (filter instanceof PDFName) return [filter.decodeText()];
  if (!(filter instanceof PDFArray)) return [];
  return filter.asArray().flatMap((_, at) => {
    const one = filter.lookup(at);
    return one instanceof PDFName ? [one.decodeText()] : [];
  });
}

function decodeBytewise({ dict }: PDFRawStream, filter: string, bytes: Uint8Array): Uint8Array {
  const alone = dict.context.obj({ Filter: filter, Length: PDFNumber.of(bytes.length) });
  try {
    return decodePDFRawStream(PDFRawStream.of(alone, bytes)).decode();
  } catch {
    return new Uint8Array();
  }
}
