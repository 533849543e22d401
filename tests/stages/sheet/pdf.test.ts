import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { drawSheet } from '../../../src/stages/sheet/index.js';
import { open, readPages } from './given/pdf-reader.js';
import { inFile, tool, withPeer } from './given/peers.js';
import { picture, record } from './given/records.js';
import { drawn, fakePictures, planned } from './given/sheets.js';

const rich = () =>
  record([
    picture(1, { view: 'periapical', caption: 'Ελληνικά αβγ, Кириллица Жжж, őșłø Ťest', covered: 1 }),
    picture(2, {
      stage: 'orifices',
      band: 'during',
      flipped: true,
      magnification: 10,
      caption: 'AVATo Type Te',
    }),
  ]);

describe('the PDF', () => {
  it('is the same bytes on every run and in every time zone', async () => {
    const first = await drawn(rich());
    const zone = process.env['TZ'];
    process.env['TZ'] = 'Pacific/Auckland';
    try {
      expect(Buffer.from(await drawn(rich())).equals(first)).toBe(true);
    } finally {
      process.env['TZ'] = zone;
    }
  });

  it('has no Info dictionary, no metadata stream and no date', async () => {
    const document = await open(await drawn(rich()));
    const { info, metadata } = await document.getMetadata();
    expect(metadata).toBeNull();
    expect(
      Object.keys(info as object).filter((key) => /Title|Author|Creator|Producer|Date/.test(key)),
    ).toEqual([]);
    await document.destroy();
  });

  it('says its language, is marked as tagged, and has page labels and an outline', async () => {
    const document = await open(await drawn(record()));
    expect((await document.getMetadata()).info).toMatchObject({ Language: 'en' });
    expect(await document.getMarkInfo()).toMatchObject({ Marked: true });
    expect(await document.getPageLabels()).toEqual(
      Array.from({ length: document.numPages }, (_, at) => `${at + 1}`),
    );
    const outline = await document.getOutline();
    expect(outline.map(({ title }) => title)).toEqual(['Lower right first molar: root canal treatment']);
    expect(outline[0]!.items.map(({ title }) => title)).toContain('Radiographs');
    await document.destroy();
  });

  it('has figures with alternative text and captions, and a table with headers, in its structure', async () => {
    const document = await open(await drawn(record()));
    const trees: string[] = [];
    for (let at = 1; at <= document.numPages; at += 1)
      trees.push(JSON.stringify(await (await document.getPage(at)).getStructTree()));
    const all = trees.join('\n');
    for (const role of ['H1', 'H2', 'P', 'Figure', 'Caption', 'Table', 'TR', 'TH', 'TD', 'L', 'LI', 'LBody'])
      expect(all).toContain(`"role":"${role}"`);
    expect(all).toContain(
      '"alt":"Periapical radiograph, before treatment (pre-operative), visit 1: Distal caries."',
    );
    await document.destroy();
  });

  it('takes no picture that carries metadata', async () => {
    const plan = await planned(rich());
    const pictures = await fakePictures(plan);
    const jpeg = await sharp({ create: { width: 40, height: 30, channels: 3, background: '#777' } })
      .withExif({ IFD0: { Artist: 'Nobody Invented' } })
      .jpeg()
      .toBuffer();
    pictures.set(2, { jpeg: new Uint8Array(jpeg), widthPx: 40, heightPx: 30 });
    await expect(drawSheet(plan, pictures)).rejects.toThrow('carries metadata');
  });

  withPeer('qpdf', 'passes the check of qpdf', async () => {
    expect(tool('qpdf', '--check', inFile(await drawn(record())))).toContain(
      'No syntax or stream encoding errors',
    );
  });

  withPeer('pdffonts', 'embeds two subset fonts with a prefix and a Unicode map (pdffonts)', async () => {
    const rows = tool('pdffonts', inFile(await drawn(rich())))
      .trim()
      .split('\n')
      .slice(2);
    expect(rows).toHaveLength(2);
    for (const row of rows)
      expect(row).toMatch(/^[A-Z]{6}\+SourceSans3-\w+\s+CID TrueType\s+Identity-H\s+yes yes yes/);
  });

  withPeer('pdfinfo', 'reads in order by its tags (pdfinfo -struct-text)', async () => {
    const path = inFile(await drawn(record()));
    expect(tool('pdfinfo', path)).toMatch(/Tagged:\s+yes/);
    const text = tool('pdfinfo', '-struct-text', path);
    const order = ['H1', 'Finished.', 'Radiographs', 'Through the microscope', 'Canals', 'Further pictures'];
    const places = order.map((word) => text.indexOf(word));
    expect(places.every((place) => place >= 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  withPeer('pdftotext', 'gives back the words of every script as they were written (pdftotext)', async () => {
    const text = tool('pdftotext', '-layout', inFile(await drawn(rich())), '-').replace(/\s+/g, ' ');
    for (const word of ['Ελληνικά', 'Кириллица', 'őșłø', 'AVATo', 'Universal']) expect(text).toContain(word);
  });

  withPeer('pdftoppm', 'looks with subset fonts exactly as with the whole fonts (pdftoppm)', async () => {
    const plan = await planned(rich());
    const pictures = await fakePictures(plan);
    const [subset, whole] = await Promise.all(
      [false, true].map(async (wholeFonts) => {
        const path = inFile(await drawSheet(plan, pictures, { wholeFonts }));
        tool('pdftoppm', '-r', '100', '-png', '-f', '1', '-l', '1', path, join(dirname(path), 'page'));
        return sharp(readFileSync(join(dirname(path), `page-${plan.pages.length > 9 ? '01' : '1'}.png`)))
          .raw()
          .toBuffer();
      }),
    );
    expect(whole!.length).toBeGreaterThan(100_000);
    expect(subset!.equals(whole!)).toBe(true);
  });

  it('prints neither the case code nor a hash', async () => {
    const bytes = Buffer.from(await drawn(record()));
    expect(bytes.includes('K7QD2M')).toBe(false);
    const text = (await readPages(bytes)).flatMap(({ texts }) => texts.map(({ text }) => text)).join(' ');
    expect(text).toContain('9VTC4H');
    expect(text).not.toContain('K7QD2M');
    expect(text).not.toMatch(/[0-9a-f]{32}/);
  });
});
