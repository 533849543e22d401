import { latin1At, viewOf } from '../bytes.js';
import type { MetadataBlock, Survey } from '../format.js';
import { inflate } from '../inflate.js';
import { outcomeOf } from '../refusal.js';
import { severalNotes } from '../several-pictures.js';
import { orientationOf } from '../tiff/orientation.js';
import { BoxReader } from './boxes.js';
import { type HeifItem, piecesTogether } from './items.js';
import { readMainPicture } from './main-picture.js';
import { checkTransfer } from './nclx-profile.js';
import { countPictures } from './pictures.js';
import { type HeifFile, readHeif } from './read-heif.js';

/** More than any real packet, unpacked. */
const MOST_PACKET_BYTES = 16_000_000;

/**
 * Size and metadata of a HEIC. The main picture's own rotation and mirror (`irot`, `imir`) decide what is upright;
 * they are applied on decoding, and the orientation that EXIF repeats is told apart and never applied again.
 */
export function surveyHeic(bytes: Uint8Array, pixelLimit: number): Survey {
  const heif = readHeif(bytes);
  const picture = readMainPicture(heif, pixelLimit);
  checkTransfer(picture);
  const blocks = [...itemBlocks(heif), ...descriptions(heif), ...otherBlocks(heif)];
  const profile = picture.profile;
  if (profile) blocks.push({ kind: 'icc', carrier: 'icc', field: 'ICC', bytes: profile });
  const exif = blocks.find(({ kind }) => kind === 'exif');
  const notes = severalNotes(countPictures(heif).pictures, 'main');
  const moving = heif.others.some(({ type }) => type === 'moov');
  if (moving) notes.push('The file also holds a moving picture; only the still one was taken.');
  if (picture.deep) notes.push('The file has more than 8 bits a channel; they were rounded to 8.');
  const turned = picture.steps.some(({ kind }) => kind !== 'crop');
  if (!turned && exif && orientationOf(exif.bytes) !== 1)
    notes.push(
      'The EXIF block says the picture lies on its side, the picture itself says it is upright; the picture was believed.',
    );
  const { widthPx, heightPx } = picture;
  return { widthPx, heightPx, upright: true, bitsPerChannel: 8, grey: false, blocks, notes };
}

/** Metadata items, those of the main picture first, so that its time and camera are the ones read. */
function itemBlocks(heif: HeifFile): MetadataBlock[] {
  const mains = new Set(
    heif.references.flatMap(({ type, from, to }) =>
      type === 'cdsc' && to.includes(heif.primary) ? [from] : [],
    ),
  );
  const items = [...heif.items.values()].sort((a, b) => Number(mains.has(b.id)) - Number(mains.has(a.id)));
  return items.flatMap((item) => [...blockOf(item), ...nameBlock(item)]);
}

function blockOf(item: HeifItem): MetadataBlock[] {
  if (item.type === 'Exif') return [exifBlock(piecesTogether(item))];
  if (item.type !== 'mime' && item.type !== 'uri ') return [];
  const bytes = unpacked(item);
  if (/rdf\+xml|xmp/i.test(item.contentType) || latin1At(bytes, 0, 400).includes('<x:xmpmeta'))
    return [{ kind: 'xmp', carrier: 'xmp', field: 'XMP', bytes }];
  return [{ kind: 'text', carrier: 'metadata-item', field: 'HEIF item', bytes }];
}

/** ExifDataBlock (ISO/IEC 23008-12, annex A.2.1): where the TIFF header begins, counted behind this number. */
function exifBlock(data: Buffer): MetadataBlock {
  const from = data.length >= 4 ? 4 + data.readUInt32BE(0) : data.length;
  const bytes = from < data.length ? data.subarray(from) : data.subarray(Math.min(4, data.length));
  return { kind: 'exif', carrier: 'exif', field: 'EXIF', bytes };
}

function unpacked(item: HeifItem): Uint8Array {
  const data = piecesTogether(item);
  if (!/deflate/i.test(item.contentEncoding)) return data;
  const result = outcomeOf('HEIC', () => inflate('HEIC', data, MOST_PACKET_BYTES));
  return result.kind === 'kept' ? result.value.produced : data;
}

const nameBlock = ({ name }: HeifItem): MetadataBlock[] =>
  name === '' ? [] : [text('HEIF item name', Buffer.from(name, 'utf8'))];

const text = (field: string, bytes: Uint8Array): MetadataBlock => ({
  kind: 'text',
  carrier: 'text',
  field,
  bytes,
});

/** UserDescriptionProperty (ISO/IEC 23008-12, 6.5.20): language, then name, description and tags. */
function descriptions(heif: HeifFile): MetadataBlock[] {
  const all = new Set([...heif.properties.values()].flat().filter(({ type }) => type === 'udes'));
  return [...all].flatMap(({ body }) => {
    const reader = new BoxReader(body, { type: 'udes', from: 0, to: body.length });
    reader.head();
    reader.text();
    return [reader.text(), reader.text(), reader.text()]
      .filter((part) => part !== '')
      .map((part) => text('HEIF description', Buffer.from(part, 'utf8')));
  });
}

function otherBlocks({ file, others, trailing }: HeifFile): MetadataBlock[] {
  const blocks: MetadataBlock[] = others.map(({ from, to }) => ({
    kind: 'other',
    carrier: 'box',
    field: 'box',
    bytes: viewOf(file).subarray(from, to),
  }));
  if (trailing.length > 0)
    blocks.push({ kind: 'other', carrier: 'after-the-end', field: 'after-the-end', bytes: trailing });
  return blocks;
}
