import { viewOf } from '../bytes.js';
import type { Curve } from './curve.js';
import { D50, type ProfileNumbers, type Xyz } from './read-profile.js';

/** The only texts in a rebuilt profile. Its readers require both tags. */
const DESCRIPTION = 'rebuilt from numbers';
const COPYRIGHT = 'none';

/**
 * A minimal version 2.1 display profile (ICC.1:1998-09): zero date, no maker, no model, fixed texts, and the numbers.
 * The same numbers give the same bytes.
 */
export function buildProfile(numbers: ProfileNumbers): Uint8Array {
  const tags: [name: string, data: Buffer][] = [
    ['desc', descriptionTag(DESCRIPTION)],
    ['cprt', textTag(COPYRIGHT)],
    ['wtpt', xyzTag(D50)],
  ];
  if (numbers.kind === 'grey') tags.push(['kTRC', curveTag(numbers.curve)]);
  else
    ['r', 'g', 'b'].forEach((channel, index) => {
      tags.push([`${channel}XYZ`, xyzTag(numbers.colorants[index]!)]);
      tags.push([`${channel}TRC`, curveTag(numbers.curves[index]!)]);
    });
  return assemble(numbers.kind === 'grey' ? 'GRAY' : 'RGB ', tags);
}

function assemble(space: string, tags: [name: string, data: Buffer][]): Uint8Array {
  const table = Buffer.alloc(4 + 12 * tags.length);
  table.writeUInt32BE(tags.length, 0);
  const blocks: { at: number; data: Buffer }[] = [];
  let end = 128 + table.length;
  tags.forEach(([name, data], index) => {
    let block = blocks.find((other) => other.data.equals(data));
    if (!block) {
      block = { at: end, data };
      blocks.push(block);
      end += data.length;
    }
    table.write(name, 4 + 12 * index, 'latin1');
    table.writeUInt32BE(block.at, 8 + 12 * index);
    table.writeUInt32BE(data.length, 12 + 12 * index);
  });
  return Buffer.concat([header(space, end), table, ...blocks.map(({ data }) => data)]);
}

/** ICC.1:1998-09, 6.1. */
function header(space: string, size: number): Buffer {
  const bytes = Buffer.alloc(128);
  bytes.writeUInt32BE(size, 0);
  bytes.writeUInt32BE(0x02100000, 8);
  bytes.write(`mntr${space}XYZ `, 12, 'latin1');
  bytes.write('acsp', 36, 'latin1');
  D50.forEach((part, axis) => {
    bytes.writeInt32BE(part, 68 + 4 * axis);
  });
  return bytes;
}

/** textDescriptionType with empty Unicode and script parts; length padded to four. */
function descriptionTag(text: string): Buffer {
  const bytes = Buffer.alloc(Math.ceil((12 + text.length + 1 + 78) / 4) * 4);
  bytes.write('desc', 0, 'latin1');
  bytes.writeUInt32BE(text.length + 1, 8);
  bytes.write(text, 12, 'latin1');
  return bytes;
}

function textTag(text: string): Buffer {
  const bytes = Buffer.alloc(Math.ceil((8 + text.length + 1) / 4) * 4);
  bytes.write(`text\0\0\0\0${text}`, 0, 'latin1');
  return bytes;
}

function xyzTag(xyz: Xyz): Buffer {
  const bytes = Buffer.alloc(20);
  bytes.write('XYZ ', 0, 'latin1');
  xyz.forEach((part, axis) => {
    bytes.writeInt32BE(part, 8 + 4 * axis);
  });
  return bytes;
}

function curveTag(curve: Curve): Buffer {
  const values = curve.kind === 'power' ? Uint16Array.of(curve.exponent256) : curve.values;
  const bytes = Buffer.alloc(Math.ceil((12 + 2 * values.length) / 4) * 4);
  bytes.write('curv', 0, 'latin1');
  bytes.writeUInt32BE(values.length, 8);
  const samples = viewOf(new Uint8Array(Uint16Array.from(values).buffer));
  if (new Uint8Array(Uint16Array.of(1).buffer)[0] === 1) samples.swap16();
  samples.copy(bytes, 12);
  return bytes;
}
