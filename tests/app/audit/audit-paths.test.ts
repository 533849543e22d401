import { mkdir, symlink, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { deflateSync } from 'node:zlib';
import { PDFDocument, PDFName } from 'pdf-lib';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { burnText } from '../../../sample-images/drawing/burn-text.js';
import { type Audit, auditPaths } from '../../../src/app/audit/index.js';
import { type AuditTerms, NO_TERMS } from '../../../src/stages/audit/index.js';
import { zip } from '../../stages/audit/given/packed.js';
import { unpackedParts } from '../../stages/audit/given/plain-search.js';
import { kindsOf, TERMS } from '../../stages/audit/given/read.js';
import { freshFolder, testPorts } from '../small-practice.js';

/** A flat film with a shadow, and lines of text burned in. */
async function film(...lines: string[]): Promise<Buffer> {
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" width="640" height="480"><defs><linearGradient id="g"><stop stop-color="#222"/><stop offset="1" stop-color="#777"/></linearGradient></defs><rect width="640" height="480" fill="url(#g)"/></svg>';
  const plain = await sharp(Buffer.from(svg)).jpeg({ quality: 92 }).toBuffer();
  if (lines.length === 0) return plain;
  return Buffer.from(await burnText(plain, { lines, xPx: 40, yPx: 60, sizePx: 28 }));
}

async function pdfOf(picture: Uint8Array): Promise<Uint8Array> {
  const document = await PDFDocument.create({ updateMetadata: false });
  const page = document.addPage([640, 480]);
  page.drawImage(await document.embedJpg(picture), { x: 0, y: 0, width: 640, height: 480 });
  return document.save();
}

const ports = testPorts();
const NAME = 'Rowan Testcase';

async function auditOf(
  files: Record<string, Uint8Array | string>,
  terms: AuditTerms = TERMS,
  kept: string[] = [],
) {
  const folder = await freshFolder();
  for (const [name, content] of Object.entries(files)) {
    await mkdir(join(folder, name, '..'), { recursive: true });
    await writeFile(join(folder, name), content);
  }
  return { folder, audit: await auditPaths([folder], terms, ports, { kept }) };
}

const nothingIdentifies = (audit: Audit): void =>
  expect(JSON.stringify(audit).toLowerCase()).not.toMatch(/rowan|testcase|20417/);

describe('a name burned into pixels', () => {
  let picture: Buffer;
  let pdf: Uint8Array;
  beforeAll(async () => {
    picture = await film(NAME);
    pdf = await pdfOf(picture);
  });

  it('is missed by a search of the bytes, in the picture, in a PDF, and in that PDF in a ZIP', () => {
    for (const bytes of [picture, Buffer.from(pdf), zip({ 'case.pdf': pdf })]) {
      for (const part of unpackedParts(bytes)) {
        const text = part.toString('latin1').toLowerCase();
        expect(text.includes('testcase') || text.includes('t\0e\0s\0t\0')).toBe(false);
      }
    }
  });

  it('is found in all three, with the way to it and never with the name', async () => {
    const { audit } = await auditOf({ 'a.jpg': picture, 'b.pdf': pdf, 'c.zip': zip({ 'case.pdf': pdf }) });
    const named = audit.hits.filter(({ kind }) => kind === 'patient-name');
    const places = named.map(({ file, where }) => `${file.slice(-5)}: ${where}`);
    expect(places).toEqual([
      expect.stringMatching(/^a\.jpg: pixels at \d+,\d+$/),
      expect.stringMatching(/^b\.pdf: page 1, picture 1, pixels at \d+,\d+$/),
      expect.stringMatching(/^c\.zip: member case\.pdf, page 1, picture 1, pixels at \d+,\d+$/),
    ]);
    expect(audit.clean).toBe(false);
    nothingIdentifies(audit);
  });
});

describe('text burned into pixels', () => {
  it('is a hit without any term, a date as such; a side marker and an empty film are clean', async () => {
    const { audit } = await auditOf({ 'a.jpg': await film('11.02.2026 09:41') }, NO_TERMS);
    expect(kindsOf(audit as never)).toEqual(['date', 'text-in-picture']);
    for (const clean of [await film('R'), await film()]) {
      expect((await auditOf({ 'a.jpg': clean }, NO_TERMS)).audit.hits).toEqual([]);
    }
  });

  it('that a person keeps is no hit, but a name is one all the same', async () => {
    const files = { 'a.jpg': await film('UPPER JAW') };
    expect((await auditOf(files)).audit.clean).toBe(false);
    expect((await auditOf(files, TERMS, ['UPPER JAW'])).audit.clean).toBe(true);
    const named = await auditOf({ 'a.jpg': await film('TESTCASE') }, TERMS, ['TESTCASE']);
    expect(kindsOf(named.audit as never)).toEqual(['patient-name']);
  });
});

describe('names and times of files and folders', () => {
  it('are read, and a name that identifies is not repeated', async () => {
    const { audit } = await auditOf({
      'TESTCASE Rowan/IMG_0001.txt': 'nothing',
      'b/testcase_20417.txt': 'nothing',
      'b/IMG_0412.txt': 'nothing',
      'c/scan 2026-02-11.txt': 'nothing',
    });
    expect(audit.hits.map(({ where, kind }) => `${where}: ${kind}`)).toEqual([
      'folder name: patient-name',
      'file name: chart-number',
      'file name: patient-name',
      'file name: date',
      'file name: visit-date',
    ]);
    nothingIdentifies(audit);
    expect(audit.hits[1]?.file).toMatch(/b.\(name withheld, number 2\)\.txt$/);
  });

  it('a time other than the constant one is a hit only where none may be', async () => {
    const folder = await freshFolder();
    for (const name of ['cases/a.txt', 'other/b.txt']) {
      await mkdir(join(folder, name, '..'), { recursive: true });
      await writeFile(join(folder, name), 'nothing');
      await utimes(join(folder, name), 1_700_000_000, 1_700_000_000);
    }
    const timeless = [join(folder, 'cases')];
    const audit = await auditPaths([folder], TERMS, ports, { timeless });
    expect(audit.hits).toEqual([{ file: join(folder, 'cases/a.txt'), where: 'file time', kind: 'date' }]);
    const settled = new Date('2000-01-01T00:00:00Z');
    await utimes(join(folder, 'cases/a.txt'), settled, settled);
    expect((await auditPaths([folder], TERMS, ports, { timeless })).clean).toBe(true);
  });
});

describe('what cannot be read', () => {
  it('is told and never clean: a link, an unknown format, a stream that unpacks without end', async () => {
    const document = await PDFDocument.create({ updateMetadata: false });
    const bomb = deflateSync(Buffer.alloc(120_000_000));
    const page = document.addPage([100, 100]);
    const content = document.context.stream(bomb, { Filter: 'FlateDecode' });
    page.node.set(PDFName.of('Contents'), document.context.register(content));
    const { folder } = await auditOf({
      'bomb.pdf': await document.save(),
      'odd.bin': Buffer.from([0, 1, 2, 3]),
      'note.txt': 'nothing',
    });
    await symlink(join(folder, 'note.txt'), join(folder, 'link.txt'));
    const audit = await auditPaths([folder], TERMS, ports);
    expect(audit.clean).toBe(false);
    expect(audit.hits).toEqual([]);
    expect(
      audit.unread.map(({ file, reason }) => `${file.slice(folder.length + 1)}: ${reason.code}`).sort(),
    ).toEqual(['bomb.pdf: unusual', 'link.txt: not-a-file', 'odd.bin: unknown-format']);
  });

  it('a link that is named itself is followed', async () => {
    const { folder } = await auditOf({ 'note.txt': `A note on ${NAME}` });
    await symlink(join(folder, 'note.txt'), join(folder, 'link.txt'));
    const audit = await auditPaths([join(folder, 'link.txt')], TERMS, ports);
    expect(kindsOf(audit as never)).toEqual(['patient-name']);
  });
});
