/** Arithmetic on boxes: [x, y, width, height] in pixels, origin top left. All pure. */
import type { FoundBox } from '../finder.js';

export interface Size {
  widthPx: number;
  heightPx: number;
}

export const areaOf = ([, , width, height]: FoundBox): number => width * height;

/** Pixels that both boxes hold. */
export function sharedArea(a: FoundBox, b: FoundBox): number {
  const width = Math.min(a[0] + a[2], b[0] + b[2]) - Math.max(a[0], b[0]);
  const height = Math.min(a[1] + a[3], b[1] + b[3]) - Math.max(a[1], b[1]);
  return width > 0 && height > 0 ? width * height : 0;
}

/** Share of the smaller box that lies in the other, 0-1. */
export function overlapOfSmaller(a: FoundBox, b: FoundBox): number {
  const smaller = Math.min(areaOf(a), areaOf(b));
  return smaller > 0 ? sharedArea(a, b) / smaller : 0;
}

/** The smallest box that holds both. */
export function unionOf(a: FoundBox, b: FoundBox): FoundBox {
  const x = Math.min(a[0], b[0]);
  const y = Math.min(a[1], b[1]);
  return [x, y, Math.max(a[0] + a[2], b[0] + b[2]) - x, Math.max(a[1] + a[3], b[1] + b[3]) - y];
}

/** Whole pixels inside the picture, never losing a part of what the box held there; null when nothing is left. */
export function clipped([x, y, width, height]: FoundBox, size: Size): FoundBox | null {
  const left = Math.max(0, Math.floor(x));
  const top = Math.max(0, Math.floor(y));
  const right = Math.min(size.widthPx, Math.ceil(x + width));
  const bottom = Math.min(size.heightPx, Math.ceil(y + height));
  return right > left && bottom > top ? [left, top, right - left, bottom - top] : null;
}

export function grown([x, y, width, height]: FoundBox, acrossPx: number, downPx: number): FoundBox {
  return [x - acrossPx, y - downPx, width + 2 * acrossPx, height + 2 * downPx];
}

/**
 * The detector marks the core of a line; this gives back its full height and width: every side moves out by
 * area times ratio over circumference, as the detector was trained to be read.
 */
export function unclipped(box: FoundBox, ratio: number): FoundBox {
  const outPx = (areaOf(box) * ratio) / (2 * (box[2] + box[3]));
  return grown(box, outPx, outPx);
}

/**
 * Boxes of whole lines in reading order: lines from top to bottom, within a line from left to right. Two boxes stand
 * in one line when the centre of the later lies inside the height of the line's first.
 */
export function inReadingOrder<T extends { box: FoundBox }>(items: readonly T[]): T[] {
  const centre = ({ box }: T): number => box[1] + box[3] / 2;
  const waiting = [...items].sort((a, b) => centre(a) - centre(b) || a.box[0] - b.box[0]);
  const ordered: T[] = [];
  for (let at = 0; at < waiting.length; ) {
    const first = waiting[at] as T;
    let end = at + 1;
    while (end < waiting.length && centre(waiting[end] as T) < first.box[1] + first.box[3]) end++;
    ordered.push(...waiting.slice(at, end).sort((a, b) => a.box[0] - b.box[0] || centre(a) - centre(b)));
    at = end;
  }
  return ordered;
}
