import type { Plant } from './plant.js';

const zero = (text: Buffer): Buffer => Buffer.concat([text, Buffer.alloc(1)]);

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
    head.writeUInt32BE(1, 8);
    head.writeUInt32BE(12, 12);
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
