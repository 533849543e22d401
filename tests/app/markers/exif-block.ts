import { afterStart, segment } from '../../fixtures/jpeg-pieces.js';
import type { Coding, Plant } from './plant.js';
import { type Ifd, numbers, type TreeField, tiffTree } from './tiff-tree.js';

const zero = (text: Buffer): Buffer => Buffer.concat([text, Buffer.alloc(1)]);

/** Fields of IFD0 by EXIF 2.32, table 4, TIFF 6.0, and Windows' XP fields, which are UTF-16 little endian. */
const IFD0_TEXTS: [tag: number, name: string][] = [
  [0x010d, 'DocumentName'],
  [0x010e, 'ImageDescription'],
  [0x010f, 'Make'],
  [0x0110, 'Model'],
  [0x011d, 'PageName'],
  [0x0131, 'Software'],
  [0x0132, 'ModifyDate'],
  [0x013b, 'Artist'],
  [0x013c, 'HostComputer'],
  [0x8298, 'Copyright'],
  [0xc614, 'UniqueCameraModel'],
  [0xfde8, 'a private tag'],
];
const XP: [tag: number, name: string][] = [
  [0x9c9b, 'XPTitle'],
  [0x9c9c, 'XPComment'],
  [0x9c9d, 'XPAuthor'],
  [0x9c9e, 'XPKeywords'],
  [0x9c9f, 'XPSubject'],
];
/** EXIF 2.32, tables 7 and 8; the last four are of 3.0. */
const EXIF_TEXTS: [tag: number, name: string][] = [
  [0x9003, 'DateTimeOriginal'],
  [0x9004, 'CreateDate'],
  [0x9010, 'OffsetTime'],
  [0x9011, 'OffsetTimeOriginal'],
  [0x9012, 'OffsetTimeDigitized'],
  [0x9290, 'SubSecTime'],
  [0x9291, 'SubSecTimeOriginal'],
  [0x9292, 'SubSecTimeDigitized'],
  [0xa004, 'RelatedSoundFile'],
  [0xa40b, 'DeviceSettingDescription'],
  [0xa420, 'ImageUniqueID'],
  [0xa430, 'OwnerName'],
  [0xa431, 'SerialNumber'],
  [0xa433, 'LensMake'],
  [0xa434, 'LensModel'],
  [0xa435, 'LensSerialNumber'],
  [0xa436, 'ImageTitle'],
  [0xa437, 'Photographer'],
  [0xa438, 'ImageEditor'],
  [0xa43a, 'ImageEditingSoftware'],
];
const GPS_TEXTS: [tag: number, name: string][] = [
  [0x0001, 'GPSLatitudeRef'],
  [0x0008, 'GPSSatellites'],
  [0x0012, 'GPSMapDatum'],
  [0x001d, 'GPSDateStamp'],
];

interface ExifOptions {
  big?: boolean;
  coding?: Coding;
  /** For texts of IFD0, when it is another. */
  asciiCoding?: Coding;
  /** A small JPEG for IFD1. */
  thumbnail?: Buffer;
  more?: TreeField[];
}

/** Every directory of an EXIF block: IFD0, EXIF, GPS, interoperability, and IFD1 with its thumbnail. */
export function exifIfd(
  plant: Plant,
  { big = false, coding = 'utf8', asciiCoding = coding, thumbnail, more = [] }: ExifOptions = {},
): Ifd {
  const texts = (section: string, list: [number, string][], written = coding): TreeField[] =>
    list.map(([tag, name]) => [tag, 2, zero(plant.bytes(`${section} ${name}`, written))]);
  const interop: Ifd = {
    fields: [
      [0x0001, 2, zero(plant.bytes('Interop index', coding))],
      [0x1000, 2, zero(plant.bytes('Interop file format', coding))],
    ],
  };
  const exif: Ifd = {
    fields: [
      ...texts('EXIF', EXIF_TEXTS),
      [0x927c, 7, Buffer.concat([Buffer.from('SAMPLEWORKS\0\x01\0'), plant.bytes('MakerNote', coding)])],
      [0x9286, 7, userComment(plant, coding)],
      [0xa005, 4, { ifd: interop }],
    ],
  };
  const gps: Ifd = {
    fields: [
      ...texts('GPS', GPS_TEXTS),
      [0x0002, 5, plant.bytes('GPS latitude, bytes of its fractions', coding)],
      [0x001b, 7, Buffer.concat([Buffer.from('ASCII\0\0\0'), plant.bytes('GPSProcessingMethod', coding)])],
      [0x001c, 7, Buffer.concat([Buffer.from('UNICODE\0'), plant.bytes('GPSAreaInformation', coding)])],
    ],
  };
  return {
    fields: [
      ...texts('IFD0', IFD0_TEXTS, asciiCoding),
      ...XP.map(([tag, name]): TreeField => [tag, 1, zero(zero(plant.bytes(`IFD0 ${name}`, 'utf16le')))]),
      [0x8769, 4, { ifd: exif }],
      [0x8825, 4, { ifd: gps }],
      ...more,
    ],
    gap: plant.bytes('EXIF, between two directories', coding),
    ...(thumbnail ? { next: thumbnailIfd(plant, thumbnail, big, coding) } : {}),
  };
}

/** EXIF 2.32, 4.6.5: eight bytes name the coding. */
function userComment(plant: Plant, coding: Coding): Buffer {
  const head = coding.startsWith('utf16') ? 'UNICODE\0' : 'ASCII\0\0\0';
  return Buffer.concat([Buffer.from(head), plant.bytes('EXIF UserComment', coding)]);
}

function thumbnailIfd(plant: Plant, thumbnail: Buffer, big: boolean, coding: Coding): Ifd {
  const inside = exifIfdOfThumbnail(plant, coding);
  const small = afterStart(
    thumbnail,
    segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0'), tiffTree(inside)])),
    segment(0xfe, plant.bytes('comment inside the thumbnail', coding)),
  );
  const whole = Buffer.concat([small, plant.bytes('after the end of the thumbnail', coding)]);
  return {
    fields: [
      [0x0103, 3, numbers(3, big, 6)],
      [0x010e, 2, zero(plant.bytes('IFD1 ImageDescription', coding))],
      [0x0201, 4, { data: whole }],
      [0x0202, 4, numbers(4, big, whole.length)],
    ],
  };
}

const exifIfdOfThumbnail = (plant: Plant, coding: Coding): Ifd => ({
  fields: [[0x013b, 2, zero(plant.bytes('EXIF inside the thumbnail', coding))]],
});
