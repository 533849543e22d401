/** Connected parts of a map or mask. */
import type { FoundBox } from '../finder.js';
import type { Size } from './boxes.js';

export interface Component {
  box: FoundBox;
  pixels: number;
  /** Mean and highest value over its pixels, in the map's own units. */
  mean: number;
  highest: number;
}

/** One value a pixel, 0-255. */
export interface Plane extends Size {
  data: Uint8Array;
}

/** Parts whose pixels are all at or over `least` and touch each other, corners included; in scanning order. */
export function componentsOf(plane: Plane, least: number): Component[] {
  const seen = new Uint8Array(plane.data.length);
  const stack: number[] = [];
  const found: Component[] = [];
  for (let at = 0; at < plane.data.length; at++) {
    if (seen[at] === 1 || plane.data[at]! < least) continue;
    seen[at] = 1;
    stack.push(at);
    found.push(flood(plane, least, seen, stack));
  }
  return found;
}

function flood(plane: Plane, least: number, seen: Uint8Array, stack: number[]): Component {
  const { data, widthPx, heightPx } = plane;
  let left = widthPx;
  let top = heightPx;
  let right = 0;
  let bottom = 0;
  let pixels = 0;
  let sum = 0;
  let highest = 0;
  while (stack.length > 0) {
    const at = stack.pop() as number;
    const x = at % widthPx;
    const y = (at - x) / widthPx;
    const value = data[at]!;
    pixels += 1;
    sum += value;
    if (value > highest) highest = value;
    if (x < left) left = x;
    if (x > right) right = x;
    if (y < top) top = y;
    if (y > bottom) bottom = y;
    const lastX = Math.min(widthPx - 1, x + 1);
    const lastY = Math.min(heightPx - 1, y + 1);
    for (let ny = Math.max(0, y - 1); ny <= lastY; ny++) {
      for (let nx = Math.max(0, x - 1); nx <= lastX; nx++) {
        const next = ny * widthPx + nx;
        if (seen[next] === 1 || data[next]! < least) continue;
        seen[next] = 1;
        stack.push(next);
      }
    }
  }
  return { box: [left, top, right - left + 1, bottom - top + 1], pixels, mean: sum / pixels, highest };
}
