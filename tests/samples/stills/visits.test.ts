import { readdir, readFile, stat } from 'node:fs/promises';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { ExifTool, type Tags } from 'exiftool-vendored';
import sharp, { type Sharp } from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { axesOf } from '../../../sample-images/drawing/stills/ground.js';
import { drawStill } from '../../../sample-images/drawing/stills/scene.js';
import { type SampleVisit, VISITS } from '../../../sample-images/drawing/visits.js';
import { matchPictures, readSidecar } from '../../../src/stages/label/index.js';
import type { VisitDocument } from '../../../src/trade/visit-document.js';

const FOLDER = fileURLToPath(new URL('../../../sample-images/visits/', import.meta.url));
const tool = new ExifTool();
afterAll(() => tool.end());

const bytesOf = (visit: SampleVisit, file: string): Promise<Buffer> =>
  readFile(path.join(FOLDER, visit.folder, file));
const sidecarOf = async (visit: SampleVisit) =>
  readSidecar(await bytesOf(visit, 'visit.yaml'), { file: 'visit.yaml', notation: null });
const documentOf = async (visit: SampleVisit): Promise<VisitDocument> => {
  const read = await sidecarOf(visit);
  if (read.kind !== 'read') throw new Error('refused');
  return read.documents[0]!.document;
};
const namesIn = async (visit: SampleVisit): Promise<string[]> =>
  (await readdir(path.join(FOLDER, visit.folder), { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && entry.name !== 'visit.yaml')
    .map((entry) => path.relative(path.join(FOLDER, visit.folder), path.join(entry.parentPath, entry.name)));

const sound = VISITS.filter((visit) => !visit.folder.includes('mistakes'));
const faulty = VISITS.find((visit) => visit.folder.includes('mistakes'))!;
const cases = sound.map((visit) => [visit.folder, visit] as const);

describe('the sound sample visits', () => {
  it.each(cases)('%s has a sidecar without a single mistake', async (_, visit) => {
    const read = await sidecarOf(visit);
    expect(read.kind).toBe('read');
    if (read.kind === 'read') expect(read.documents.map((one) => one.errors)).toEqual([[]]);
  });

  it.each(cases)('%s lists every picture but the copy, and none that is not there', async (_, visit) => {
    const read = await sidecarOf(visit);
    if (read.kind !== 'read') throw new Error('refused');
    const match = matchPictures(read.documents, await namesIn(visit));
    const copies = visit.files.filter((one) => one.kind === 'copy').map((one) => one.file);
    expect(match.unlabelled.toSorted()).toEqual(copies.toSorted());
    expect(match.documents[0]!.absent).toEqual([]);
  });

  it.each(cases)(
    '%s says truly where mesial and buccal lie once a mirror view is flipped',
    async (_, visit) => {
      const { images } = await documentOf(visit);
      for (const one of visit.files) {
        if (one.kind !== 'still') continue;
        const entry = images.find((image) => image.file === one.file)!;
        const { mesial, buccal } = axesOf(one.shot.pose);
        const quadrant = Math.floor(one.tooth.shape.fdi / 10);
        const direct = quadrant === 1 || quadrant === 3 ? 1 : -1;
        expect(entry.mirror).toBe(one.shot.pose.parity !== direct);
        const side = ([x, y]: readonly [number, number]): string => {
          const shown = entry.mirror ? -x : x;
          return Math.abs(shown) > Math.abs(y) ? (shown > 0 ? 'right' : 'left') : y > 0 ? 'up' : 'down';
        };
        expect(entry.orientation).toEqual({ mesial: side(mesial), buccal: side(buccal) });
      }
    },
  );

  it.each(cases)('%s labels stills with the canals they show', async (_, visit) => {
    const { images, canals } = await documentOf(visit);
    for (const one of visit.files) {
      if (one.kind !== 'still' || !('floor' in one.shot.content)) continue;
      const labelled = images.find((image) => image.file === one.file)!.canals;
      if (labelled.length === 0) continue;
      const content = one.shot.content;
      const shown = content.show === 'filled' ? content.filled : content.floor.found;
      expect(labelled.toSorted()).toEqual([...shown].toSorted());
      for (const label of labelled) expect(canals.map((canal) => canal.canal)).toContain(label);
    }
  });

  it.each(cases)('%s holds one day, one device clock and no gap of two hours', async (_, visit) => {
    const { visit: said } = await documentOf(visit);
    const times: number[] = [];
    for (const one of visit.files) {
      const tags = await tool.read(path.join(FOLDER, visit.folder, one.file));
      const taken = String(tags.DateTimeOriginal);
      expect(taken.slice(0, 10)).toBe(said.date);
      times.push(Date.parse(taken.slice(0, 19)));
    }
    expect(Math.max(...times) - Math.min(...times)).toBeLessThan(2 * 3600_000);
  });
});

describe('the visit with mistakes', () => {
  it('is refused, and every mistake has its line and a sentence', async () => {
    const read = await sidecarOf(faulty);
    expect(read.kind).toBe('refused');
    if (read.kind !== 'refused') return;
    const fields = read.errors.map((error) => error.field);
    expect(fields).toContain('tooth');
    expect(fields).toContain('images[0].stage');
    expect(read.errors.length).toBeGreaterThanOrEqual(6);
    for (const error of read.errors) expect(error.line).toBeGreaterThan(1);
  });
});

describe('the files', () => {
  it('take at most 12 MB', async () => {
    let sum = 0;
    for (const visit of VISITS)
      for (const name of await namesIn(visit))
        sum += (await stat(path.join(FOLDER, visit.folder, name))).size;
    expect(sum).toBeLessThan(12_000_000);
    expect(sum).toBeGreaterThan(1_000_000);
  });

  it('hold one byte-equal copy, one PNG called JPG, and one picture turned by EXIF', async () => {
    const visit = VISITS[0]!;
    expect((await bytesOf(visit, 'IMG_0414.JPG')).equals(await bytesOf(visit, 'IMG_0414 (2).JPG'))).toBe(
      true,
    );
    const head = (await bytesOf(visit, 'films/FILM0001.JPG')).subarray(1, 4).toString('latin1');
    expect(head).toBe('PNG');
    const turned = await sharp(await bytesOf(VISITS[1]!, 'IMG_0469.JPG')).metadata();
    expect(turned.orientation).toBe(6);
    expect(turned.width).toBeLessThan(turned.height);
  });

  const stills = VISITS.flatMap((visit) => visit.files.map((one) => ({ visit, one }))).flatMap(
    ({ visit, one }) => (one.kind === 'still' ? [{ visit, one }] : []),
  );
  it.each(stills.map((s) => [s.one.file, s] as const))(
    '%s is what the code draws, upright',
    async (_, { visit, one }) => {
      const [w, h] = [64, 48];
      const file = await sharp(await bytesOf(visit, one.file))
        .rotate()
        .toColourspace('srgb')
        .resize(w, h)
        .removeAlpha()
        .raw()
        .toBuffer();
      const picture = drawStill(one.tooth, one.shot, 256, 192);
      const fresh = sharp(picture.rgb, { raw: { width: 256, height: 192, channels: 3 } });
      const apart = async (image: Sharp): Promise<number> => {
        const raw = await image.resize(w, h).raw().toBuffer();
        let sum = 0;
        for (let k = 0; k < raw.length; k++) sum += Math.abs(raw[k]! - file[k]!);
        return sum / raw.length;
      };
      const same = await apart(fresh.clone());
      expect(same).toBeLessThan(6);
      const flipped = await sharp(await fresh.clone().png().toBuffer())
        .flop()
        .png()
        .toBuffer();
      expect(await apart(sharp(flipped))).toBeGreaterThan(1.5 * same);
    },
  );
});

describe('the planted metadata', () => {
  // an outside reader, exiftool, sees each kind
  const read = (file: string): Promise<Tags> =>
    tool.read(path.join(FOLDER, '2026-02-11 room 2', file), ['-G1', '-a', '-u']);
  it('stands in the JPEGs in every carrier', async () => {
    const tags = (await read('IMG_0414.JPG')) as unknown as Record<string, unknown>;
    const keys = Object.keys(tags);
    for (const wanted of [
      'IFD0:Artist',
      'IFD0:HostComputer',
      'ExifIFD:SerialNumber',
      'ExifIFD:OwnerName',
      'ExifIFD:UserComment',
      'GPS:GPSLatitude',
      'IFD1:ThumbnailImage',
      'XMP-iptcExt:PersonInImage',
      'IPTC:By-line',
      'File:Comment',
      'ICC_Profile:ProfileDescription',
    ])
      expect(keys).toContain(wanted);
    const bytes = await bytesOf(VISITS[0]!, 'IMG_0414.JPG');
    expect(bytes.includes('SAMPLEWORKS\0operator=')).toBe(true);
    expect(bytes.lastIndexOf('SAMPLEWORKS-TRAILER')).toBeGreaterThan(
      bytes.lastIndexOf(Buffer.from([0xff, 0xd9])),
    );
  });

  it('stands in the PNG as text, compressed text, international text, EXIF and time', async () => {
    const bytes = await bytesOf(VISITS[0]!, 'films/FILM0001.JPG');
    for (const type of ['tEXt', 'zTXt', 'iTXt', 'eXIf', 'tIME', 'swPt'])
      expect(bytes.includes(type)).toBe(true);
  });

  it('stands in the TIFF as artist', async () => {
    const tags = await tool.read(path.join(FOLDER, '2026-02-25 room 2', 'films/film8.tif'));
    expect(tags.Artist).toBe('Dr Imke Sandvoort');
  });
});
