import {
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFHexString,
  PDFInvalidObject,
  PDFName,
  type PDFObject,
  PDFRawStream,
  PDFStream,
  PDFString,
} from 'pdf-lib';
import { held, kept, type Outcome } from '../../../../core/outcome.js';
import { type Reading, within } from '../../reading.js';
import type { ReadNext } from '../next.js';
import { readBlocks } from '../pictures/blocks.js';
import { readFields } from '../pictures/fields.js';
import { TOO_MUCH } from '../streams.js';
import { readXml } from '../xml-text.js';
import { stringsInContent } from './content-strings.js';
import { dataOf } from './stream-data.js';
import { textsOf } from './string-text.js';

/** Every object of the file, also those that nothing leads to. */
export async function openObjects(pdf: Uint8Array): Promise<Outcome<PDFDocument>> {
  try {
    const document = await PDFDocument.load(pdf, {
      updateMetadata: false,
      ignoreEncryption: true,
      throwOnInvalidObject: false,
      parseSpeed: Number.POSITIVE_INFINITY,
    });
    if (document.context.trailerInfo.Encrypt)
      return held({ code: 'unusual', format: 'PDF', what: 'it is encrypted' });
    return kept(document);
  } catch {
    return held({ code: 'damaged', format: 'PDF', what: 'its objects cannot be read' });
  }
}

/** Strings of programs, not of people: font names, permissions, colour spaces. Searched for known terms only. */
const OF_PROGRAMS = new Set(
  'Registry Ordering DA ID O U OE UE Perms Lang CharSet Panose Style IDTree'.split(' '),
);

/**
 * Strings with the key they stand under, names, streams and attachments.
 * @returns false when a stream unpacks to more than can be read
 */
export async function readObjects(
  reading: Reading,
  document: PDFDocument,
  where: string,
  next: ReadNext,
): Promise<boolean> {
  const walk = new Walk(reading, where);
  const { context } = document;
  const { Info, ID, Root } = context.trailerInfo;
  for (const part of [Info, ID, Root]) if (part) walk.object(part, 'trailer', 0);
  let attachments = 0;
  let isBounded = true;
  for (const [, object] of context.enumerateIndirectObjects()) {
    walk.object(object, '', 0);
    if (object instanceof PDFInvalidObject)
      reading.unread(where, { code: 'damaged', format: 'PDF', what: 'an object in it cannot be read' });
    if (!(object instanceof PDFRawStream)) continue;
    if (typeOf(object) === 'EmbeddedFile') attachments += 1;
    if (!(await readStream(reading, object, where, next, attachments))) isBounded = false;
  }
  reading.text(within(where, 'names'), [...walk.names].join(' \u00b7 '), { ofProgram: true });
  return isBounded;
}

class Walk {
  readonly names = new Set<string>();

  constructor(
    readonly reading: Reading,
    readonly where: string,
  ) {}

  object(object: PDFObject, key: string, depth: number): void {
    if (depth > DEEPEST) return;
    if (object instanceof PDFName) this.names.add(object.decodeText());
    else if (object instanceof PDFString || object instanceof PDFHexString) this.#string(object, key);
    else if (object instanceof PDFArray) for (const one of object.asArray()) this.object(one, key, depth + 1);
    else if (object instanceof PDFStream) this.object(object.dict, key, depth + 1);
    else if (object instanceof PDFDict) {
      for (const [name, one] of object.entries()) {
        this.names.add(name.decodeText());
        this.object(one, name.decodeText(), depth + 1);
      }
    }
  }

  #string(string: PDFString | PDFHexString, key: string): void {
    const bytes = string.asBytes();
    if (bytes.length === 0) return;
    const place = within(this.where, /^[A-Za-z0-9]{1,30}$/.test(key) ? `PDF ${key}` : 'PDF string');
    const ofProgram = OF_PROGRAMS.has(key);
    for (const text of textsOf(bytes)) this.reading.text(place, text, { ofProgram });
  }
}

const DEEPEST = 100;

const typeOf = ({ dict }: PDFRawStream): string => nameAt(dict, 'Type');
const nameAt = (dict: PDFDict, key: string): string => {
  const name = dict.get(PDFName.of(key));
  return name instanceof PDFName ? name.decodeText() : '';
};

/** The drawing of a page, a font or a packet takes less; a picture may take more. */
const MOST_DRAWING_BYTES = 100_000_000;

/** @returns false when it unpacks to more than can be read */
async function readStream(
  reading: Reading,
  stream: PDFRawStream,
  where: string,
  next: ReadNext,
  attachment: number,
): Promise<boolean> {
  const isPicture = nameAt(stream.dict, 'Subtype') === 'Image';
  const isFile = typeOf(stream) === 'EmbeddedFile';
  const data = dataOf(
    stream,
    isPicture || isFile ? reading.room : Math.min(reading.room, MOST_DRAWING_BYTES),
  );
  if (data === null) {
    reading.unread(within(where, 'packed stream'), TOO_MUCH);
    return false;
  }
  reading.unpacked(data.bytes.length);
  if (isFile) {
    await next(data.bytes, within(where, `attachment ${attachment}`));
  } else if (isPicture) {
    const place = within(where, 'picture');
    reading.bytes(place, data.bytes, { ofProgram: true });
    if (data.coded === 'DCTDecode' || data.coded === 'DCT') {
      readBlocks(reading, data.bytes, place, 'JPEG');
      await readFields(reading, data.bytes, place);
    }
  } else {
    readText(reading, stream, data.bytes, where);
  }
  return true;
}

function readText(reading: Reading, stream: PDFRawStream, bytes: Uint8Array, where: string): void {
  const type = typeOf(stream);
  if (type === 'Metadata' || nameAt(stream.dict, 'Subtype') === 'XML') {
    readXml(reading, Buffer.from(bytes).toString('utf8'), within(where, 'XMP'));
    return;
  }
  const place = within(where, type === '' ? 'stream' : `${type.replace(/[^\w]/g, '?')} stream`);
  reading.bytes(place, bytes, { ofProgram: true });
  for (const text of stringsInContent(bytes)) reading.text(place, text, { ofProgram: true });
}
