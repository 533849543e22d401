import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawSheet } from '../../../src/stages/sheet/index.js';
import type { PictureRecord } from '../../../src/trade/case-record.js';
import { anyRecord } from './given/arbitrary-records.js';
import { type ReadPage, readPages } from './given/pdf-reader.js';
import { canal, course, ninePictures, picture, record } from './given/records.js';
import { drawn, fakePictures, planned } from './given/sheets.js';

const MARGIN_PT = (15 / 25.4) * 72;
const HALF_PT = 0.5;

const footerOf = (page: ReadPage) => page.texts.filter(({ yPt }) => yPt < MARGIN_PT + 1);
const bodyOf = (page: ReadPage) => page.texts.filter(({ yPt }) => yPt >= MARGIN_PT + 1);

/** What a page breaks of the rules that hold on every sheet; empty when all is well. */
function faultsOf(page: ReadPage, minimumPt: number): string[] {
  const faults: string[] = [];
  const lineOfFooterPt = MARGIN_PT + minimumPt + 3;
  for (const { text, xPt, yPt, widthPt, sizePt } of page.texts) {
    if (xPt < MARGIN_PT - HALF_PT || xPt + widthPt > page.widthPt - MARGIN_PT + 3)
      faults.push(`outside: ${text}`);
    if (yPt + sizePt > page.heightPt - MARGIN_PT + sizePt) faults.push(`above the margin: ${text}`);
    if (sizePt < minimumPt - 0.01) faults.push(`smaller than ${minimumPt} pt: ${text}`);
  }
  for (const { text, yPt, sizePt } of bodyOf(page))
    if (yPt - sizePt * 0.3 < lineOfFooterPt) faults.push(`across the footer: ${text}`);
  for (const image of page.images) {
    if (image.yPt < lineOfFooterPt) faults.push('a picture crosses the footer');
    if (image.xPt < MARGIN_PT - HALF_PT || image.xPt + image.widthPt > page.widthPt - MARGIN_PT + HALF_PT)
      faults.push('a picture is outside the margins');
    for (const text of page.texts) if (overlaps(text, image)) faults.push(`over a picture: ${text.text}`);
  }
  return faults;
}

function overlaps(text: ReadPage['texts'][number], image: ReadPage['images'][number]): boolean {
  return (
    text.xPt < image.xPt + image.widthPt - HALF_PT &&
    text.xPt + text.widthPt > image.xPt + HALF_PT &&
    text.yPt < image.yPt + image.heightPt - HALF_PT &&
    text.yPt + text.sizePt * 0.66 > image.yPt + HALF_PT
  );
}

const many = (count: number): PictureRecord[] =>
  Array.from({ length: count }, (_, at) =>
    picture(at + 1, {
      view: at % 4 === 0 ? 'periapical' : 'microscope',
      widthPx: at % 7 === 3 ? 900 : 1600,
      heightPx: at % 7 === 3 ? 1600 : 1200,
      caption:
        'x'
          .repeat(at % 3 === 0 ? 0 : 3)
          .concat(' caption of a picture'.repeat(at % 20))
          .slice(0, 400) || null,
    }),
  );

describe('the layout of a sheet', () => {
  it('is judged by a check that sees text over a picture, in a margin, in the footer and too small', async () => {
    const [page] = await readPages(await drawn(record()));
    const [text] = bodyOf(page!);
    const [image] = page!.images;
    const broken = (more: object) => faultsOf({ ...page!, texts: [{ ...text!, ...more }] }, 9);
    expect(broken({})).toEqual([]);
    expect(broken({ xPt: image!.xPt + 5, yPt: image!.yPt + 20, widthPt: 10 })).toHaveLength(1);
    expect(broken({ xPt: 20 })).toHaveLength(1);
    expect(broken({ yPt: MARGIN_PT + 6 })).toHaveLength(1);
    expect(broken({ sizePt: 8 })).toHaveLength(1);
  });

  it.each(['A4', 'Letter'])(
    'keeps text inside the margins, off the pictures and above the footer on %s',
    async (paper) => {
      await fc.assert(
        fc.asyncProperty(anyRecord, fc.constantFrom(9, 11), async (any, minimumText) => {
          const pages = await readPages(await drawn(any, { paper, minimumText }));
          expect(pages.flatMap((page) => faultsOf(page, minimumText))).toEqual([]);
        }),
        { numRuns: 12 },
      );
    },
    240_000,
  );

  it.each([1, 2, 5, 12, 30, 80])('shows each of %i pictures once', async (count) => {
    const plan = await planned(record(many(count)));
    const pages = await readPages(await drawSheet(plan, await fakePictures(plan)));
    expect(pages.reduce((sum, page) => sum + page.images.length, 0)).toBe(count);
    expect(plan.shown.map(({ picture: { number } }) => number).toSorted((a, b) => a - b)).toEqual(
      many(count).map(({ number }) => number),
    );
  });

  it('never stretches or crops a picture', async () => {
    const plan = await planned(record(many(12)));
    for (const { marks } of plan.pages)
      for (const mark of marks)
        if (mark.kind === 'picture') {
          const shown = plan.shown.find(({ picture: { number } }) => number === mark.number)!.picture;
          expect(mark.box.widthPt / mark.box.heightPt).toBeCloseTo(shown.widthPx / shown.heightPx, 3);
        }
  });

  it('gives radiographs of a row one scale when all are calibrated', async () => {
    const larger = { mmPerPxX: 0.03, mmPerPxY: 0.03, source: 'receptor' };
    const pictures = ninePictures().map((one) => (one.number === 9 ? { ...one, scale: larger } : one));
    const plan = await planned(record(pictures));
    const boxes = plan.pages[0]!.marks.flatMap((mark) => (mark.kind === 'picture' ? [mark] : []));
    const perMm = [1, 5, 9].map((number) => {
      const { widthPx, scale } = pictures.find((one) => one.number === number)!;
      return boxes.find((box) => box.number === number)!.box.widthPt / (widthPx * scale!.mmPerPxX);
    });
    expect(perMm[1]).toBeCloseTo(perMm[0]!, 6);
    expect(perMm[2]).toBeCloseTo(perMm[0]!, 6);
    const bar = plan.pages[0]!.marks.find(
      (mark) => mark.kind === 'rule' && Math.abs(mark.to.xPt - mark.from.xPt - 5 * perMm[0]!) < 1e-6,
    );
    expect(bar).toBeDefined();
  });

  it('says "not to scale" when one radiograph of the row is not calibrated, and draws no bar', async () => {
    const pictures = ninePictures().map((one) => (one.number === 5 ? { ...one, scale: null } : one));
    const [first] = await readPages(await drawn(record(pictures)));
    const text = bodyOf(first!)
      .map((one) => one.text)
      .join(' ')
      .replace(/\s+/g, ' ');
    expect(text).not.toContain('One scale for this row');
    // once in the heading line of the row, once under the drawn diagram
    expect(text.match(/not to scale/gi)).toHaveLength(2);
  });

  it('repeats the heading of a section that goes on over a page', async () => {
    const pages = await readPages(await drawn(record(many(30))));
    const later = pages.slice(2).map((page) => page.texts.map(({ text }) => text).join(' '));
    expect(later.some((text) => text.includes('Further pictures (continued)'))).toBe(true);
  });

  it('prints text that is at least seven times as dark as paper (contrast of WCAG 2.2)', async () => {
    const pages = await readPages(await drawn(record()));
    const colours = [...new Set(pages.flatMap(({ textColours }) => textColours))];
    expect(colours.length).toBeGreaterThan(1);
    for (const colour of colours) expect(contrastWithWhite(colour)).toBeGreaterThanOrEqual(7);
  });

  it('has a footer with share code, what the copy is, and the page on every page', async () => {
    const pages = await readPages(await drawn(record(many(12))));
    pages.forEach((page, at) => {
      const text = footerOf(page)
        .map((one) => one.text)
        .join(' ');
      expect(text).toContain('Share code 9VTC4H');
      expect(text).toContain('De-identified copy for sharing');
      expect(text).toContain(`Page ${at + 1} of ${pages.length}`);
    });
  });

  it('tells the case on page one: answer, films and stills before, during and after, and the canals', async () => {
    const [first] = await readPages(await drawn(record()));
    expect(first!.images).toHaveLength(6);
    const answer = first!.texts.find(({ text }) => text.startsWith('Finished.'))!;
    expect(answer.yPt).toBeGreaterThan((first!.heightPt * 2) / 3);
    expect(first!.texts.map(({ text }) => text).join(' ')).toMatch(/joins MB, 4.mm from the/);
  });

  it('shows a case of sixteen pictures on two pages, with the canals on the first and columns that line up', async () => {
    const caption = 'Floor with MB, ML and D; a calcified spot in the groove';
    const pictures = [...ninePictures(), ...many(16).slice(9)].map((one) => ({
      ...one,
      scale: null,
      caption,
    }));
    const pages = await readPages(await drawn(record(pictures)));
    expect(pages).toHaveLength(2);
    expect(pages[0]!.texts.some(({ text }) => text.startsWith('Canals'))).toBe(true);
    const lefts = new Set(pages[0]!.images.map(({ xPt }) => Math.round(xPt)));
    expect(lefts.size).toBe(3);
    const lowest = (page: ReadPage) => Math.min(...bodyOf(page).map(({ yPt }) => yPt));
    expect(lowest(pages[0]!)).toBeLessThan(pages[0]!.heightPt * 0.16);
    expect(lowest(pages[1]!)).toBeLessThan(pages[1]!.heightPt * 0.3);
  });

  it('tears a text that is longer than a page between its lines, and loses none of it', async () => {
    const words = Array.from({ length: 1500 }, (_, at) => `word${at}`);
    const handoff = { ...course().handoff, caries: words.join(' ') };
    const pages = await readPages(await drawn(record([], { handoff })));
    expect(pages.flatMap((page) => faultsOf(page, 9))).toEqual([]);
    const shown = new Set(pages.flatMap((page) => page.texts.flatMap(({ text }) => text.trim().split(' '))));
    expect(words.filter((word) => !shown.has(word) && !shown.has(`W${word.slice(1)}`))).toEqual([]);
  });

  it('keeps a table of many canals and long words whole on the page', async () => {
    const canals = Array.from({ length: 5 }, (_, at) => canal(`C${at}`, { filled: 'w'.repeat(120) }));
    const pages = await readPages(await drawn({ ...record(), courses: [course({ canals })] }));
    expect(pages.flatMap((page) => faultsOf(page, 9))).toEqual([]);
  });
});

/** WCAG 2.2, relative luminance and contrast ratio. */
function contrastWithWhite(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const channel = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return channel <= 0.04045 ? channel / 12.92 : ((channel + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05);
}
