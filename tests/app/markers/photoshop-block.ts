import { afterStart, segment } from '../../fixtures/jpeg-pieces.js';
import type { Coding, Plant } from './plant.js';

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
