import { deflateRawSync, gzipSync } from 'node:zlib';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { crc32 } from '../../../src/formats/png/crc.js';
import { LIMITS } from '../../../src/stages/audit/reading.js';
import { zip } from './given/packed.js';
import { blind, read, reader, TERMS } from './given/read.js';

const isClean = ({ hits, unread }: { hits: unknown[]; unread: unknown[] }): boolean =>
  hits.length === 0 && unread.length === 0;

const jpeg = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#8a6a4a' } })
  .jpeg()
  .toBuffer();
const png = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#8a6a4a' } })
  .png()
  .toBuffer();

/** One deflated member with a header that says what it likes (APPNOTE.TXT, 4.3.7 and 4.3.12). */
function member(
  packed: Buffer,
  says: { crc: number; size: number; flags?: number; method?: number },
): Buffer {
  const name = Buffer.from('a.txt');
  const common = Buffer.alloc(26);
  common.writeUInt16LE(20, 0);
  common.writeUInt16LE(says.flags ?? 0, 2);
  common.writeUInt16LE(says.method ?? 8, 4);
  common.writeUInt32LE(says.crc, 10);
  common.writeUInt32LE(packed.length, 14);
  common.writeUInt32LE(says.size, 18);
  common.writeUInt16LE(name.length, 22);
  const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), common, name, packed]);
  const central = Buffer.concat([Buffer.from('PK\x01\x02\x14\0', 'latin1'), common, Buffer.alloc(14), name]);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 'latin1');
  end.writeUInt16LE(1, 8);
  end.writeUInt16LE(1, 10);
  end.writeUInt32LE(central.length, 12);
  end.writeUInt32LE(local.length, 16);
  return Buffer.concat([local, central, end]);
}

const text = Buffer.from('nothing to see here');

describe('a file that cannot be read in full is never clean', () => {
  it('the archives made here are sound, but for what each test changes', async () => {
    expect(isClean(await read(member(deflateRawSync(text), { crc: crc32(text), size: text.length })))).toBe(
      true,
    );
  });

  const bomb = deflateRawSync(Buffer.alloc(30_000_000));
  const cases: Record<string, Buffer> = {
    'a member that unpacks a thousandfold': member(bomb, { crc: 0, size: 30_000_000 }),
    'a member that says it is small and is not': member(bomb, { crc: 0, size: 10 }),
    'a member whose check sum is wrong': member(deflateRawSync(text), { crc: 1, size: text.length }),
    'a member that is encrypted': member(deflateRawSync(text), {
      crc: crc32(text),
      size: text.length,
      flags: 1,
    }),
    'a member packed in an unknown way': member(text, { crc: crc32(text), size: text.length, method: 14 }),
    'a member that is broken': member(Buffer.from('no deflate at all'), { crc: 5, size: 20 }),
    'an archive cut in the middle': zip({ 'a.txt': 'nothing', 'b.txt': 'nothing' }).subarray(0, 70),
    'an archive in an archive, ten deep': Array.from({ length: 10 }).reduce<Buffer>(
      (inner) => zip({ 'a.zip': inner }),
      text,
    ),
    'a gzip file cut in the middle': gzipSync(Buffer.from(text)).subarray(0, 20),
    'a JPEG cut in the middle': jpeg.subarray(0, jpeg.length - 120),
    'a PNG cut in the middle': png.subarray(0, 60),
    'an animated PNG': Buffer.concat([
      png.subarray(0, 33),
      Buffer.from([0, 0, 0, 8, ...Buffer.from('acTL'), 0, 0, 0, 2, 0, 0, 0, 0, 0, 0, 0, 0]),
      png.subarray(33),
    ]),
    'bytes of no known format': Buffer.from([0, 1, 2, 3, 250, 251, 0, 9]),
    'a DICOM object without anything in it': Buffer.concat([Buffer.alloc(128), Buffer.from('DICM')]),
  };

  it.each(Object.keys(cases))('%s', async (name) => {
    const found = await read(cases[name]!);
    expect(found.unread).not.toEqual([]);
    expect(isClean(found)).toBe(false);
  });

  it('a finder that fails leaves its picture unread', async () => {
    const failing = { ...blind, searchTexts: () => Promise.reject(new Error('no model')) };
    const { unread } = await read(jpeg, TERMS, failing);
    expect(unread).toEqual([{ where: '', reason: { code: 'not-searched', what: 'text' } }]);
  });

  it('a picture above the limit of pixels is not opened', async () => {
    const tools = { ...reader([]), pixelLimit: 1000 };
    const { unread } = await read(jpeg, TERMS, tools);
    expect(unread[0]?.reason.code).toBe('too-many-pixels');
    expect(tools.seen).toEqual([]);
  });

  it('more parts than can be read end the reading, and say so', async () => {
    const many = Object.fromEntries(Array.from({ length: LIMITS.parts / 2 + 10 }, (_, at) => [`${at}`, 'x']));
    const { unread } = await read(zip(many));
    expect(unread.length).toBeGreaterThan(0);
    expect(unread.length).toBeLessThan(5);
  });
});

describe('whatever the bytes are', () => {
  const seeds = [jpeg, png, zip({ 'a.txt': 'nothing', 'b.png': png })];
  it('the reading ends with an answer, and sound files that were changed are never read as something else', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...seeds),
        fc.nat(),
        fc.uint8Array({ maxLength: 8 }),
        async (seed, at, bytes) => {
          const changed = Buffer.from(seed);
          changed.set(
            bytes.subarray(0, Math.max(0, changed.length - (at % changed.length))),
            at % changed.length,
          );
          const found = await read(changed);
          expect(found.hits.filter(({ kind }) => kind.startsWith('patient'))).toEqual([]);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('no bytes at all are clean', async () => {
    expect(isClean(await read(Buffer.alloc(0)))).toBe(true);
  });
});
