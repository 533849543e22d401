import { viewOf } from '../bytes.js';
import type { MetadataBlock, Survey } from '../format.js';
import { severalNotes } from '../several-pictures.js';
import { countPictures } from './count-pictures.js';
import { COM, EXIF_HEAD, PHOTOSHOP_HEAD, XMP_HEAD, XMP_MORE_HEAD } from './markers.js';
import { joinProfile } from './profile-chunks.js';
import { type JpegParts, readJpeg } from './read-jpeg.js';

/** Size and metadata of a JPEG, extended XMP joined and profile chunks in order. */
export function surveyJpeg(bytes: Uint8Array): Survey {
  const jpeg = readJpeg(bytes);
  const { frame } = jpeg;
  return {
    widthPx: frame.widthPx,
    heightPx: frame.heightPx,
    bitsPerChannel: 8,
    grey: frame.components.length === 1,
    blocks: [
      ...jpeg.metadata.flatMap(blockOf),
      ...joinExtendedXmp(jpeg.metadata),
      ...profileBlock(jpeg.metadata),
      ...(jpeg.trailing.length > 0 ? [other('after-the-end', jpeg.trailing)] : []),
    ],
    notes: severalNotes(countPictures(jpeg)),
  };
}

function blockOf({ marker, body, carrier }: JpegParts['metadata'][number]): MetadataBlock[] {
  const after = (head: string): Uint8Array => body.subarray(head.length);
  switch (carrier) {
    case 'jfif':
    case 'adobe':
    case 'icc':
    case 'xmp-extended':
      return [];
    case 'exif':
      return [{ kind: 'exif', carrier, field: 'EXIF', bytes: body.subarray(EXIF_HEAD.length + 1) }];
    case 'xmp':
      return [{ kind: 'xmp', carrier, field: 'XMP', bytes: after(XMP_HEAD) }];
    case 'photoshop':
      return [{ kind: 'iptc', carrier: 'iptc', field: 'IPTC', bytes: after(PHOTOSHOP_HEAD) }];
    default:
      return marker === COM
        ? [{ kind: 'text', carrier, field: 'JPEG comment', bytes: body }]
        : [other(carrier, body)];
  }
}

const other = (carrier: string, bytes: Uint8Array): MetadataBlock => ({
  kind: 'other',
  carrier,
  field: carrier,
  bytes,
});

function profileBlock(metadata: JpegParts['metadata']): MetadataBlock[] {
  const bytes = joinProfile(metadata);
  return bytes ? [{ kind: 'icc', carrier: 'icc', field: 'ICC', bytes }] : [];
}

/** Extended XMP (XMP specification part 3, 1.1.3.1): GUID of 32 characters, full length, offset, then the piece. */
function joinExtendedXmp(metadata: JpegParts['metadata']): MetadataBlock[] {
  const pieces = metadata
    .filter(({ carrier, body }) => carrier === 'xmp-extended' && body.length > XMP_MORE_HEAD.length + 40)
    .map(({ body }) => viewOf(body).subarray(XMP_MORE_HEAD.length))
    .map((body) => ({
      guid: body.toString('latin1', 0, 32),
      offset: body.readUInt32BE(36),
      bytes: body.subarray(40),
    }));
  return [...new Set(pieces.map(({ guid }) => guid))].map((guid) => ({
    kind: 'xmp',
    carrier: 'xmp-extended',
    field: 'XMP',
    bytes: Buffer.concat(
      pieces
        .filter((piece) => piece.guid === guid)
        .sort((a, b) => a.offset - b.offset)
        .map(({ bytes }) => bytes),
    ),
  }));
}
