import { refuseUnusual } from '../refusal.js';
import type { TiffDirectory, TiffReader } from './directory.js';

/** NewSubfileType (TIFF 6.0, section 8): bit 0 a smaller copy of another page, bit 2 a mask for one. */
const KIND = 254;
const LESSER = 0b101;

const isLesser = (tiff: TiffReader, page: TiffDirectory): boolean =>
  (tiff.number(page, KIND, 0) & LESSER) !== 0;

/** All pages. Held when the first is only a preview or mask of a later one: it would be taken for the picture. */
export function picturePages(tiff: TiffReader): TiffDirectory[] {
  const pages = tiff.pages();
  if (isLesser(tiff, pages[0]!) && pages.some((page) => !isLesser(tiff, page)))
    refuseUnusual('TIFF', 'a small preview in front of the picture itself');
  return pages;
}

export const countPictures = (tiff: TiffReader, pages: TiffDirectory[]): number =>
  pages.filter((page, index) => index === 0 || !isLesser(tiff, page)).length;
