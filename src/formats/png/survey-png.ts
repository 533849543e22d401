import { latin1At, viewOf } from '../bytes.js';
import type { MetadataBlock, Survey } from '../format.js';
import { inflate } from '../inflate.js';
import { outcomeOf } from '../refusal.js';
import { severalNotes } from '../several-pictures.js';
import { type PngChunk, readPng } from './read-png.js';
import { carrierOf, profileOf } from './strip-png.js';

/** More text than any note has; a bomb stops here. */
const MOST_TEXT_BYTES = 4_000_000;

export function surveyPng(bytes: Uint8Array): Survey {
  const png = readPng(bytes);
  const trailing: MetadataBlock[] =
    png.trailing.length > 0
      ? [{ kind: 'other', carrier: 'after-the-end', field: 'after-the-end', bytes: png.trailing }]
      : [];
  return {
    widthPx: png.widthPx,
    heightPx: png.heightPx,
    bitsPerChannel: png.bitDepth === 16 ? 16 : 8,
    grey: png.colourType === 0 || png.colourType === 4,
    blocks: [...png.chunks.flatMap(blockOf), ...trailing],
    notes: severalNotes(countPictures(png.chunks)),
  };
}

/** Frames of a moving PNG (ISO/IEC 15948:2025, 11.3.7), and the still picture when it is none of them. */
function countPictures(chunks: PngChunk[]): number {
  const control = chunks.find(({ name }) => name === 'acTL');
  if (!control || control.data.length < 4) return 1;
  const names = chunks.map(({ name }) => name);
  const stillIsFrame = names.slice(0, names.indexOf('IDAT')).includes('fcTL');
  return viewOf(control.data).readUInt32BE(0) + (stillIsFrame ? 0 : 1);
}

const SILENT = new Set([
  'IHDR',
  'PLTE',
  'IDAT',
  'IEND',
  'tRNS',
  'gAMA',
  'cHRM',
  'sRGB',
  'sBIT',
  'bKGD',
  'pHYs',
  'cICP',
]);

function blockOf(chunk: PngChunk): MetadataBlock[] {
  if (SILENT.has(chunk.name)) return [];
  if (chunk.name === 'eXIf') return [{ kind: 'exif', carrier: 'exif', field: 'EXIF', bytes: chunk.data }];
  if (chunk.name === 'iCCP') return [{ kind: 'icc', carrier: 'icc', field: 'ICC', bytes: profileOf(chunk) }];
  const carrier = carrierOf(chunk.name);
  if (carrier !== 'text') return [{ kind: 'other', carrier, field: carrier, bytes: chunk.data }];
  const keyword = latin1At(chunk.data, 0, Math.max(0, chunk.data.indexOf(0)));
  const bytes = textOf(chunk, keyword.length);
  if (/^XML:com\.adobe\.xmp$/i.test(keyword)) return [{ kind: 'xmp', carrier: 'xmp', field: 'XMP', bytes }];
  return [{ kind: 'text', carrier: 'text', field: `PNG text ${keyword}`, bytes }];
}

/** Text of tEXt, zTXt and iTXt (ISO/IEC 15948, 11.3.4), unpacked; empty when it cannot be. */
function textOf({ name, data }: PngChunk, keywordEnd: number): Uint8Array {
  if (name === 'tEXt') return data.subarray(keywordEnd + 1);
  if (name === 'zTXt') return unpack(data.subarray(keywordEnd + 2));
  const language = data.indexOf(0, keywordEnd + 3);
  const translated = language < 0 ? -1 : data.indexOf(0, language + 1);
  if (translated < 0) return new Uint8Array(0);
  const text = data.subarray(translated + 1);
  return data[keywordEnd + 1] === 1 ? unpack(text) : text;
}

function unpack(data: Uint8Array): Uint8Array {
  const unpacked = outcomeOf('PNG', () => inflate('PNG', data, MOST_TEXT_BYTES));
  return unpacked.kind === 'kept' ? unpacked.value.produced : new Uint8Array(0);
}
