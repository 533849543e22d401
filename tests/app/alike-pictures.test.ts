import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import type { VisitReport } from '../../src/app/report.js';
import { freshFolder, freshPractice, intake, noise, testPorts, writeVisit } from './small-practice.js';

const ports = testPorts();

const sidecar = (patient: string, images: string[], more = ''): string =>
  `patient: ${patient}\nvisit: {date: 2026-02-11, state: interim}\ntooth: {fdi: 46}\n${more}images:\n${images.map((image) => `  - ${image}\n`).join('')}`;

const ROWAN = '{chart: A-1, names: [Rowan Testcase]}';
const still = (file: string, more = ''): string =>
  `{file: ${file}, stage: orifices, view: microscope${more}}`;

const only = (reports: VisitReport[]): VisitReport => {
  expect(reports).toHaveLength(1);
  return reports[0] as VisitReport;
};

/** The same picture but for the lowest bit of one sample: what two frames of a burst may differ by. */
async function burst(): Promise<[Buffer, Buffer]> {
  const { data, info } = await sharp(await noise(91))
    .raw()
    .toBuffer({ resolveWithObject: true });
  const frame = (pixels: Buffer) => sharp(pixels, { raw: info }).png().toBuffer();
  const other = Buffer.from(data);
  other[0] = (other[0] as number) ^ 1;
  return [await frame(data), await frame(other)];
}

describe('pictures that are alike', () => {
  it('are both kept when they are two of one burst', async () => {
    const practice = await freshPractice();
    const [first, second] = await burst();
    const folder = await writeVisit(join(await freshFolder(), 'v'), {
      'a.png': first,
      'b.png': second,
      'visit.yaml': sidecar(ROWAN, [still('a.png'), still('b.png')]),
    });
    const report = only(await intake(practice, folder, ports));
    expect(report.pictures.map(({ status, image }) => [status, image?.split('/').at(-1)])).toEqual([
      ['kept', '01-orifices.jpg'],
      ['kept', '02-orifices.jpg'],
    ]);
  });

  it('are a quiet duplicate when their bytes are equal, naming what they equal, within a visit and across visits', async () => {
    const practice = await freshPractice();
    const picture = await noise(92);
    const first = await writeVisit(join(await freshFolder(), 'first'), {
      'a.jpg': picture,
      'copy of a.jpg': picture,
      'visit.yaml': sidecar(ROWAN, [still('a.jpg')]),
    });
    const one = only(await intake(practice, first, ports));
    expect(one.pictures).toMatchObject([{ status: 'kept' }, { status: 'duplicate', duplicateOf: 'a.jpg' }]);
    const later = sidecar(ROWAN, [still('again.jpg'), still('new.jpg')]).replace('2026-02-11', '2026-02-25');
    const second = await writeVisit(join(await freshFolder(), 'second'), {
      'again.jpg': picture,
      'new.jpg': await noise(93),
      'visit.yaml': later,
    });
    const two = only(await intake(practice, second, ports));
    expect(two).toMatchObject({ case: one.case, status: 'done' });
    expect(two.pictures[0]).toMatchObject({ status: 'duplicate', duplicateOf: one.pictures[0]?.image });
    expect(two.pictures[1]).toMatchObject({
      status: 'kept',
      image: `cases/${one.case}/images/02-orifices.jpg`,
    });
  });

  it('serve two teeth of one patient, and hold the visit of another patient before anything is made', async () => {
    const practice = await freshPractice();
    const picture = await noise(94);
    const files = (patient: string, tooth: string) => ({
      'a.jpg': picture,
      'visit.yaml': sidecar(patient, [still('a.jpg')]).replace('{fdi: 46}', tooth),
    });
    const folder = join(await freshFolder(), 'v');
    const first = only(await intake(practice, await writeVisit(folder, files(ROWAN, '{fdi: 46}')), ports));
    const second = only(await intake(practice, await writeVisit(folder, files(ROWAN, '{fdi: 47}')), ports));
    expect([first.status, second.status, first.case === second.case]).toEqual(['done', 'done', false]);
    const stranger = only(
      await intake(
        practice,
        await writeVisit(folder, files('{chart: B-2, names: [Juniper Sample]}', '{fdi: 46}')),
        ports,
      ),
    );
    expect(stranger).toMatchObject({
      status: 'held',
      case: null,
      sheets: [],
      reason: { code: 'other-patient' },
    });
    expect(stranger.reason?.sentence).toContain('a.jpg');
    expect(stranger.reason?.sentence).not.toMatch(/Rowan|Juniper|A-1|B-2/);
  });
});

describe('a mirror view', () => {
  it('is flipped exactly once, whatever the order of revisions', async () => {
    const practice = await freshPractice();
    const picture = await sharp(await noise(95))
      .png()
      .toBuffer();
    const folder = join(await freshFolder(), 'v');
    const shown = async (more: string): Promise<Buffer> => {
      await writeVisit(folder, { 'a.png': picture, 'visit.yaml': sidecar(ROWAN, [still('a.png', more)]) });
      const report = only(await intake(practice, folder, ports));
      return sharp(await readFile(join(practice.root, report.pictures[0]?.image as string)))
        .raw()
        .toBuffer();
    };
    const { data: direct } = await sharp(picture)
      .jpeg({ quality: 92, chromaSubsampling: '4:4:4' })
      .toBuffer({ resolveWithObject: true });
    const { data: mirrored } = await sharp(picture)
      .flop()
      .jpeg({ quality: 92, chromaSubsampling: '4:4:4' })
      .toBuffer({ resolveWithObject: true });
    const near = async (a: Buffer, jpeg: Buffer): Promise<boolean> => {
      const b = await sharp(jpeg).raw().toBuffer();
      return a.length === b.length && a.every((value, at) => Math.abs(value - (b[at] as number)) <= 24);
    };
    // Seeded noise: a wrong flip differs by far more than two encodings of the same pixels do.
    expect(await near(await shown(''), direct)).toBe(true);
    expect(await near(await shown(', mirror: true'), mirrored)).toBe(true);
    expect(await near(await shown(', mirror: true, caption: Again'), mirrored)).toBe(true);
    expect(await near(await shown(', mirror: false'), direct)).toBe(true);
    expect(await near(await sharp(direct).raw().toBuffer(), mirrored)).toBe(false);
  });
});
