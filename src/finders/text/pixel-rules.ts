/**
 * Two rules on pixels for what the net passes over, lone letters above all. Comes in: a picture. Leaves: places that
 * look like lettering burned in by a program; the recogniser judges them like those of the net.
 */
import type { FinderPicture, FoundBox } from '../finder.js';
import { areaOf } from './boxes.js';
import { type Component, componentsOf, type Plane } from './components.js';
import { groupGlyphs, isGlyphSized } from './glyph-groups.js';
import { offSurroundings } from './surroundings.js';

/** Grey levels between a mark and the ring around it. */
const CONTRAST = 50;
/** A pixel belongs to a mark when it stands this far off the mean around it, which the mark itself has moved. */
const MARK_LEVEL = 32;
const SURROUNDINGS_PX = 16;
/** The ring around a mark counts as flat when most of its pixels lie this near to its middle one. */
const FLAT_LEVELS = 20;
const FLAT_SHARE = 0.7;
/** Share of its box that a letter's strokes fill; less is a hair, more a dot or a filling. */
const LEAST_FILLED = 0.12;
const MOST_FILLED = 0.9;
/** Levels between the strongest and weakest channel from which a pixel counts as coloured. */
const COLOURED = 60;
/** A picture with more of its pixels coloured than this is no grey picture. */
const MOST_COLOURED = 0.06;
const MOST_MARKS = 4000;

/** Rec. 601 luma, rounded. */
export function lumaOf({ data, channels, widthPx, heightPx }: FinderPicture): Plane {
  if (channels === 1) return { data, widthPx, heightPx };
  const luma = new Uint8Array(widthPx * heightPx);
  for (let i = 0; i < luma.length; i++) {
    luma[i] = (data[i * 3]! * 299 + data[i * 3 + 1]! * 587 + data[i * 3 + 2]! * 114 + 500) / 1000;
  }
  return { data: luma, widthPx, heightPx };
}

/** Lettering 50 levels off flat ground of any grey. */
export function flatMarks(luma: Plane, tallestPx: number): FoundBox[] {
  const lighter = offSurroundings(luma, SURROUNDINGS_PX);
  const darker = { ...lighter, data: lighter.data.map((value) => 255 - value) };
  return [lighter, darker].flatMap((off) => {
    const sign = off === lighter ? 1 : -1;
    const marks = componentsOf(off, 128 + MARK_LEVEL).filter(
      (mark) => isGlyphSized(mark.box, tallestPx) && isFilled(mark) && isOnFlat(luma, mark.box, sign),
    );
    return marks.length > MOST_MARKS ? [] : groupGlyphs(marks.map(({ box }) => box));
  });
}

function isFilled({ pixels, box }: Component): boolean {
  const share = pixels / areaOf(box);
  return (
    share >= LEAST_FILLED && (share <= MOST_FILLED || Math.max(box[2], box[3]) > 2 * Math.min(box[2], box[3]))
  );
}

/** Values along the rectangle two pixels outside the box, as far as it lies in the picture. */
function ringAround({ data, widthPx, heightPx }: Plane, [x, y, width, height]: FoundBox): number[] {
  const [left, top, right, bottom] = [x - 2, y - 2, x + width + 1, y + height + 1];
  const ring: number[] = [];
  const look = (px: number, py: number): void => {
    if (px >= 0 && py >= 0 && px < widthPx && py < heightPx) ring.push(data[py * widthPx + px]!);
  };
  for (let px = left; px <= right; px++) {
    look(px, top);
    look(px, bottom);
  }
  for (let py = top + 1; py < bottom; py++) {
    look(left, py);
    look(right, py);
  }
  return ring.sort((a, b) => a - b);
}

/** True when most of the ring is of one grey (a neighbouring letter may reach in) and the mark stands off it. */
function isOnFlat(luma: Plane, box: FoundBox, sign: 1 | -1): boolean {
  const ring = ringAround(luma, box);
  if (ring.length === 0) return false;
  const middle = ring[ring.length >> 1]!;
  const near = ring.filter((value) => Math.abs(value - middle) <= FLAT_LEVELS).length;
  return near >= ring.length * FLAT_SHARE && (farthest(luma, box, sign) - middle) * sign >= CONTRAST;
}

/** The lightest (sign 1) or darkest value in the box. */
function farthest({ data, widthPx }: Plane, [x, y, width, height]: FoundBox, sign: 1 | -1): number {
  let found = sign === 1 ? 0 : 255;
  for (let row = y; row < y + height; row++) {
    for (let at = row * widthPx + x; at < row * widthPx + x + width; at++) {
      const value = data[at]!;
      if ((value - found) * sign > 0) found = value;
    }
  }
  return found;
}

/** Coloured marks in an otherwise grey picture: nothing a film shows is coloured. */
export function colouredMarks(picture: FinderPicture, tallestPx: number): FoundBox[] {
  if (picture.channels === 1) return [];
  const { data, widthPx, heightPx } = picture;
  const spread = new Uint8Array(widthPx * heightPx);
  let coloured = 0;
  for (let i = 0; i < spread.length; i++) {
    const [r, g, b] = [data[i * 3]!, data[i * 3 + 1]!, data[i * 3 + 2]!];
    spread[i] = Math.max(r, g, b) - Math.min(r, g, b);
    if (spread[i]! >= COLOURED / 2) coloured += 1;
  }
  if (coloured === 0 || coloured > spread.length * MOST_COLOURED) return [];
  const marks = componentsOf({ data: spread, widthPx, heightPx }, COLOURED);
  const sized = marks.filter(({ box }) => isGlyphSized(box, tallestPx));
  return sized.length > MOST_MARKS ? [] : groupGlyphs(sized.map(({ box }) => box));
}
