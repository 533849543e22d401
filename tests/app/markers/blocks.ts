/** Blocks of metadata that several formats carry: EXIF, XMP, IPTC with Photoshop resources, colour profiles. */
import { deflateSync } from 'node:zlib';
import { afterStart, segment } from '../../fixtures/jpeg-pieces.js';
import { type Coding, coded, type Plant } from './plant.js';
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

export interface ExifOptions {
  big?: boolean;
  coding?: Coding;
  /** A small JPEG for IFD1. */
  thumbnail?: Buffer;
  more?: TreeField[];
}

/** Every directory of an EXIF block: IFD0, EXIF, GPS, interoperability, and IFD1 with its thumbnail. */
export function exifIfd(
  plant: Plant,
  { big = false, coding = 'utf8', thumbnail, more = [] }: ExifOptions = {},
): Ifd {
  const texts = (section: string, list: [number, string][]): TreeField[] =>
    list.map(([tag, name]) => [tag, 2, zero(plant.bytes(`${section} ${name}`, coding))]);
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
      ...texts('IFD0', IFD0_TEXTS),
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

const SIMPLE_XMP =
  'photoshop:City photoshop:State photoshop:Country photoshop:Credit photoshop:Headline photoshop:AuthorsPosition photoshop:Instructions photoshop:Source photoshop:TransmissionReference photoshop:CaptionWriter photoshop:DateCreated xmp:CreatorTool xmp:CreateDate xmp:Label xmp:Nickname xmpMM:DocumentID xmpMM:InstanceID xmpMM:OriginalDocumentID aux:OwnerName aux:SerialNumber aux:LensSerialNumber exif:GPSLatitude exif:UserComment tiff:Artist tiff:Make tiff:Model Iptc4xmpCore:Location Iptc4xmpCore:CountryCode xmpRights:WebStatement plus:LicensorName'.split(
    ' ',
  );
const CONTACT = 'CiAdrExtadr CiAdrCity CiAdrPcode CiTelWork CiEmailWork CiUrlWork'.split(' ');
const SPACES =
  'dc photoshop xmp xmpMM stEvt stRef aux exif tiff Iptc4xmpCore Iptc4xmpExt xmpRights plus mwg-rs xmpGImg DICOM'
    .split(' ')
    .map((name) => `xmlns:${name}="urn:drawn:${name}"`)
    .join(' ');

/** XMP with attributes, nested structures, history, derived-from, face regions, a preview in base64, and what is no field. */
export function xmpPacket(plant: Plant, coding: Coding = 'utf8'): Buffer {
  const w = (name: string): string => plant.word(`XMP ${name}, ${coding}`);
  const attributes = SIMPLE_XMP.map((name) => `${name}="${w(name)}"`).join('\n ');
  const contact = CONTACT.map((name) => `Iptc4xmpCore:${name}="${w(name)}"`).join(' ');
  const alt = (name: string) =>
    `<${name}><rdf:Alt><rdf:li xml:lang="x-default">${w(name)}</rdf:li><rdf:li xml:lang="en">${w(`${name} in English`)}</rdf:li></rdf:Alt></${name}>`;
  const bag = (name: string) => `<${name}><rdf:Bag><rdf:li>${w(name)}</rdf:li></rdf:Bag></${name}>`;
  const event = (n: number) =>
    `<rdf:li stEvt:action="saved" stEvt:instanceID="${w(`history ${n} instance`)}" stEvt:softwareAgent="${w(`history ${n} agent`)}" stEvt:parameters="${w(`history ${n} parameters`)}" stEvt:when="${w(`history ${n} when`)}"/>`;
  const preview = deflateSync(w('preview, deflated and in base64')).toString('base64');
  const text = `<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?><!-- ${w('comment')} --><x:xmpmeta xmlns:x="adobe:ns:meta/" x:xmptk="${w('toolkit')}"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about="${w('about')}" ${SPACES} ${attributes}>
${alt('dc:title')}${alt('dc:description')}${alt('dc:rights')}${bag('dc:creator')}${bag('dc:subject')}${bag('Iptc4xmpExt:PersonInImage')}
<Iptc4xmpCore:CreatorContactInfo rdf:parseType="Resource"><x ${contact}/></Iptc4xmpCore:CreatorContactInfo>
<xmpMM:History><rdf:Seq>${event(1)}${event(2)}</rdf:Seq></xmpMM:History>
<xmpMM:DerivedFrom stRef:documentID="${w('derived from')}"><stRef:filePath>${w('derived from path')}</stRef:filePath></xmpMM:DerivedFrom>
<mwg-rs:Regions rdf:parseType="Resource"><mwg-rs:RegionList><rdf:Bag><rdf:li><rdf:Description mwg-rs:Name="${w('region name')}" mwg-rs:Type="Face"/></rdf:li></rdf:Bag></mwg-rs:RegionList></mwg-rs:Regions>
<DICOM:PatientName>${w('PatientName')}</DICOM:PatientName><DICOM:PatientID>${w('PatientID')}</DICOM:PatientID>
<xmp:Thumbnails><rdf:Alt><rdf:li rdf:parseType="Resource"><xmpGImg:image>${preview}</xmpGImg:image></rdf:li></rdf:Alt></xmp:Thumbnails>
<photoshop:History><![CDATA[${w('CDATA')}]]></photoshop:History>
</rdf:Description></rdf:RDF></x:xmpmeta><?drawn ${w('processing instruction')}?>      <?xpacket end="w"?>${w('after the packet')}`;
  return coded(text, coding);
}

/** IIM records of trade practice: number and name (IPTC-NAA IIM 4.2). */
const IPTC: [number, string][] = [
  [5, 'ObjectName'],
  [7, 'EditStatus'],
  [22, 'FixtureIdentifier'],
  [25, 'Keywords'],
  [26, 'ContentLocationCode'],
  [27, 'ContentLocationName'],
  [40, 'SpecialInstructions'],
  [55, 'DateCreated'],
  [60, 'TimeCreated'],
  [65, 'OriginatingProgram'],
  [80, 'By-line'],
  [85, 'By-lineTitle'],
  [90, 'City'],
  [92, 'Sub-location'],
  [95, 'State'],
  [101, 'Country'],
  [103, 'TransmissionReference'],
  [105, 'Headline'],
  [110, 'Credit'],
  [115, 'Source'],
  [116, 'Copyright'],
  [118, 'Contact'],
  [120, 'Caption'],
  [122, 'Writer'],
  [184, 'JobID'],
];

export function iptcRecords(plant: Plant, coding: Coding = 'utf8'): Buffer {
  const record = (group: number, number: number, data: Buffer): Buffer => {
    const head = Buffer.from([0x1c, group, number, 0, 0]);
    head.writeUInt16BE(data.length, 3);
    return Buffer.concat([head, data]);
  };
  return Buffer.concat([
    record(1, 90, coding === 'utf8' ? Buffer.from('\x1b%G') : plant.bytes('IPTC 1:90', coding)),
    ...IPTC.map(([number, name]) => record(2, number, plant.bytes(`IPTC 2:${number} ${name}`, coding))),
    record(8, 10, plant.bytes('IPTC 8:10', coding)),
  ]);
}

/** Photoshop image resources: kind, name, data; IPTC is one of them. */
export function photoshopResources(plant: Plant, iptc: Buffer, thumbnail: Buffer): Buffer {
  const resource = (id: number, data: Buffer, name = ''): Buffer => {
    const title = Buffer.concat([Buffer.from([Buffer.byteLength(name)]), Buffer.from(name)]);
    const head = Buffer.concat([Buffer.from('8BIM'), Buffer.from([id >> 8, id & 255]), title]);
    const length = Buffer.alloc(4);
    length.writeUInt32BE(data.length);
    return Buffer.concat([head, Buffer.alloc(title.length % 2), length, data, Buffer.alloc(data.length % 2)]);
  };
  const p = (name: string, coding: Coding = 'utf8') => plant.bytes(`Photoshop ${name}`, coding);
  const small = afterStart(thumbnail, segment(0xfe, p('thumbnail, comment')));
  return Buffer.concat([
    resource(0x0404, iptc),
    resource(0x03ee, p('names of channels')),
    resource(0x0415, p('names of channels in Unicode', 'utf16be')),
    resource(0x03f0, p('caption')),
    resource(0x040b, p('address of a page')),
    resource(0x041e, p('list of addresses', 'utf16be')),
    resource(0x0421, p('version and writer', 'utf16be')),
    resource(0x0422, Buffer.concat([Buffer.from('Exif\0\0'), p('EXIF')])),
    resource(0x0424, p('XMP')),
    resource(0x040c, Buffer.concat([Buffer.alloc(28), small])),
    resource(0x07d1, p('path'), plant.word('Photoshop, name of a resource')),
    Buffer.concat([Buffer.from('MeSa'), resource(0x0fa0, p('a plug-in')).subarray(4)]),
    p('after the resources'),
  ]);
}

/** A sound profile with more tags: `desc` and `mluc` texts, copyright, device, a private tag, and bytes after the end. */
export function markedProfile(profile: Buffer, plant: Plant): Buffer {
  const text = (name: string): Buffer =>
    Buffer.concat([Buffer.from('text\0\0\0\0'), zero(plant.bytes(`ICC ${name}`, 'latin1'))]);
  const desc = (name: string): Buffer => {
    const words = zero(plant.bytes(`ICC ${name}`, 'latin1'));
    const length = Buffer.alloc(4);
    length.writeUInt32BE(words.length);
    return Buffer.concat([Buffer.from('desc\0\0\0\0'), length, words, Buffer.alloc(78)]);
  };
  const several = (name: string): Buffer => {
    const words = plant.bytes(`ICC ${name}`, 'utf16be');
    const head = Buffer.alloc(28);
    head.write('mluc', 0, 'latin1');
    [1, 12].forEach((value, n) => head.writeUInt32BE(value, 8 + 4 * n));
    head.write('enUS', 16, 'latin1');
    head.writeUInt32BE(words.length, 20);
    head.writeUInt32BE(28, 24);
    return Buffer.concat([head, words]);
  };
  const added: [string, Buffer][] = [
    ['desc', desc('description')],
    ['cprt', text('copyright')],
    ['dmnd', desc('maker of the device')],
    ['dmdd', several('model of the device')],
    ['targ', text('target')],
    ['zqPr', text('private tag')],
  ];
  const known = new Set(added.map(([name]) => name));
  const count = profile.readUInt32BE(128);
  const kept = Array.from({ length: count }, (_, n): [string, Buffer] => {
    const at = 132 + 12 * n;
    const from = profile.readUInt32BE(at + 4);
    return [
      profile.toString('latin1', at, at + 4),
      profile.subarray(from, from + profile.readUInt32BE(at + 8)),
    ];
  }).filter(([name]) => !known.has(name));
  const all = [...kept, ...added];
  const table = Buffer.alloc(4 + 12 * all.length);
  table.writeUInt32BE(all.length);
  const body: Buffer[] = [];
  let free = 128 + table.length;
  all.forEach(([name, data], n) => {
    table.write(name, 4 + 12 * n, 'latin1');
    table.writeUInt32BE(free, 8 + 12 * n);
    table.writeUInt32BE(data.length, 12 + 12 * n);
    const padded = Buffer.concat([data, Buffer.alloc((4 - (data.length % 4)) % 4)]);
    body.push(padded);
    free += padded.length;
  });
  const head = Buffer.from(profile.subarray(0, 128));
  const whole = Buffer.concat([head, table, ...body, plant.bytes('ICC, behind its tags')]);
  whole.writeUInt32BE(whole.length, 0);
  return whole;
}
