/**
 * Two rules on pixels for what the net passes over, lone letters above all. Comes in: a picture. Leaves: places that
 * look like lettering burned in by a program; the recogniser judges them like those of the net.
 */
import type { FinderPicture, FoundBox } from '../finder.js';
import { type Component, componentsOf, type Plane } from './components.js';
import { groupGlyphs, isGlyphSized } from './glyph-groups.js';

/** Grey levels, 0-255. Film borders and collimated ground lie at or under the first, boxes of labels over 255 less it. */
const FLAT_GROUND = 45;
const CONTRAST = 50;
/** A mark begins this far off the darkest ground, so that the soft edge of a letter belongs to it. */
const MARK_LEVEL = 75;
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

/** Lettering 50 levels off a flat dark or flat light ground. */
export function flatMarks(luma: Plane, tallestPx: number): FoundBox[] {
  const light = { ...luma, data: luma.data.map((value) => 255 - value) };
  return [luma, light].flatMap((plane) => {
    const marks = componentsOf(plane, MARK_LEVEL).filter(
      (mark) => isGlyphSized(mark.box, tallestPx) && standsOff(plane, mark),
    );
    return marks.length > MOST_MARKS ? [] : groupGlyphs(marks.map(({ box }) => box));
  });
}

/** True when the ring two pixels outside the mark is flat and dark, and the mark rises well above it. */
function standsOff(plane: Plane, mark: Component): boolean {
  const [x, y, width, height] = mark.box;
  const [left, top, right, bottom] = [x - 2, y - 2, x + width + 1, y + height + 1];
  let count = 0;
  let sum = 0;
  let off = 0;
  const look = (px: number, py: number): void => {
    if (px < 0 || py < 0 || px >= plane.widthPx || py >= plane.heightPx) return;
    const value = plane.data[py * plane.widthPx + px]!;
    count += 1;
    if (value > FLAT_GROUND) off += 1;
    else sum += value;
  };
  for (let px = left; px <= right; px++) {
    look(px, top);
    look(px, bottom);
  }
  for (let py = top + 1; py < bottom; py++) {
    look(left, py);
    look(right, py);
  }
  // A neighbouring letter may reach into the ring.
  if (count === 0 || off > count * 0.35) return false;
  return mark.highest - sum / Math.max(1, count - off) >= CONTRAST;
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
