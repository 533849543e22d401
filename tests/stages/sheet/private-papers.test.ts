import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { drawContactSheet, drawCoverSlip } from '../../../src/stages/sheet/index.js';
import { fonts } from './given/fonts.js';
import { readPages } from './given/pdf-reader.js';

const words = async (pdf: Uint8Array) => {
  const pages = await readPages(pdf);
  return {
    pages,
    text: pages
      .flatMap(({ texts }) => texts.map(({ text }) => text))
      .join(' ')
      .replace(/\s+/g, ' '),
  };
};

describe('the contact sheet', () => {
  it('shows every picture once with its number, name and lines, over as many pages as it takes', async () => {
    const jpeg = new Uint8Array(
      await sharp({ create: { width: 60, height: 40, channels: 3, background: '#765' } })
        .jpeg()
        .toBuffer(),
    );
    const tiles = Array.from({ length: 41 }, (_, at) => ({
      number: at + 1,
      name: `IMG_${4000 + at} 漢.JPG`,
      jpeg,
      widthPx: 60,
      heightPx: 40,
      lines: ['no capture time', 'colour'],
    }));
    const { pages, text } = await words(
      await drawContactSheet({ title: 'room 2', fonts, paper: 'A4', tiles }),
    );
    expect(pages.length).toBeGreaterThan(1);
    expect(pages.reduce((sum, page) => sum + page.images.length, 0)).toBe(41);
    expect(text).toContain('IMG_4040 ?.JPG');
    expect(text).toContain('Private, not for sharing');
  });
});

describe('the cover slip', () => {
  const slip = {
    shareCode: '9VTC4H',
    patient: { names: ['Rowan Testcase'], chart: 'A-20417', born: '1984-06-02' },
    tooth: { fdi: 46 },
    dates: ['2026-02-11', '2026-02-25'],
    deadline: '4 weeks',
    letterhead: ['Quayside Endodontics'],
    fonts,
    paper: 'A4' as const,
  };

  it('is half a page that links share code and patient and says how to send it', async () => {
    const { pages, text } = await words(await drawCoverSlip(slip));
    expect(pages).toHaveLength(1);
    expect(pages[0]!.heightPt).toBeCloseTo(841.89 / 2, 1);
    for (const part of [
      '9VTC4H',
      'Rowan Testcase',
      'A-20417',
      'Lower right first molar',
      'Within 4 weeks of 2026-02-25',
      'by another way than',
    ])
      expect(text).toContain(part);
  });

  it('leaves a limit that is no span as it was written', async () => {
    const { text } = await words(await drawCoverSlip({ ...slip, deadline: 'as soon as possible' }));
    expect(text).toContain('As soon as possible');
  });

  it('says what was not recorded', async () => {
    const nobody = { ...slip, patient: { names: [], chart: null, born: null }, deadline: null };
    expect((await words(await drawCoverSlip(nobody))).text.match(/Not recorded/g)).toHaveLength(4);
  });
});
