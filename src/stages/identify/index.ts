/**
 * Identify: bytes and a name come in; leaves: what the picture says about itself, told by its bytes and never by its
 * extension. Refused: formats that cannot be taken in, damaged files. Broken metadata never refuses a picture. No
 * pixel is decoded.
 */
import type { FormatName } from '../../core/format-name.js';
import { held, kept, type Outcome } from '../../core/outcome.js';
import type { PictureFacts } from '../../core/picture-facts.js';
import type { Reason } from '../../core/reasons.js';
import { readDicom } from '../../formats/dicom/index.js';
import { formatFor } from '../../formats/index.js';
import { readObject } from './dicom/read-object.js';
import { readMetadata } from './read-metadata.js';

/** The format by its signature; null when it is none that is known. */
export const formatOf = (bytes: Uint8Array): FormatName | null => formatFor(bytes)?.name ?? null;

/** `name` is only looked at for its extension. */
export async function identify(bytes: Uint8Array, name: string): Promise<Outcome<PictureFacts>> {
  if (bytes.length === 0) return held({ code: 'empty-file' });
  const format = formatFor(bytes);
  if (!format) return held({ code: 'unknown-format' });
  if (!('survey' in format)) return held(notYet(format.name));
  const surveyed = format.survey(bytes);
  if (surveyed.kind !== 'kept') return surveyed;
  const { blocks, notes, upright, ...shape } = surveyed.value;
  const metadata = format.name === 'DICOM' ? objectFacts(bytes) : await readMetadata(blocks);
  return kept({
    format: format.name,
    ...shape,
    ...metadata,
    ...(upright ? { orientation: 1 } : {}),
    notes: [...extensionNotes(name, format.name), ...notes],
  });
}

/** Everything else in a DICOM object is metadata; its survey has shown that it can be read. */
function objectFacts(bytes: Uint8Array): ReturnType<typeof readObject> {
  const read = readDicom(bytes);
  if (read.kind !== 'kept') throw new Error('an object was read once and not twice');
  return readObject(read.value);
}

function notYet(format: FormatName): Reason {
  if (format === 'DICOMDIR') return { code: 'disc-index' };
  return { code: 'unknown-format' };
}

const EXTENSIONS: Record<string, FormatName> = {
  jpg: 'JPEG',
  jpeg: 'JPEG',
  jpe: 'JPEG',
  jfif: 'JPEG',
  mpo: 'JPEG',
  png: 'PNG',
  apng: 'PNG',
  tif: 'TIFF',
  tiff: 'TIFF',
  webp: 'WebP',
  dcm: 'DICOM',
  heic: 'HEIC',
  heif: 'HEIC',
};

/** Names formats only: what else stands behind the last dot may be part of a person's name. */
function extensionNotes(name: string, format: FormatName): string[] {
  const says = EXTENSIONS[/\.([a-z0-9]+)$/i.exec(name)?.[1]?.toLowerCase() ?? ''];
  if (says === format) return [];
  if (says) return [`The extension says ${says}, the bytes say ${format}.`];
  return [`The file name does not end like a ${format} file; the bytes say ${format}.`];
}
