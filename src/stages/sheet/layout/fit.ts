import type { Rect } from './marks.js';

/**
 * Where a picture goes: scaled to fit its cell, never cropped, centred.
 * @param picture width and height in any one unit
 * @param cellPt  points, origin top left
 */
export function fitInCell(picture: { width: number; height: number }, cellPt: Rect): Rect {
  const scale = Math.min(cellPt.widthPt / picture.width, cellPt.heightPt / picture.height);
  return centred(picture.width * scale, picture.height * scale, cellPt);
}

export function centred(widthPt: number, heightPt: number, cellPt: Rect): Rect {
  return {
    xPt: cellPt.xPt + (cellPt.widthPt - widthPt) / 2,
    yPt: cellPt.yPt + (cellPt.heightPt - heightPt) / 2,
    widthPt,
    heightPt,
  };
}
