import type { Rgb } from './to-rgb.js';

/** One step of showing a picture (ISO/IEC 23008-12, 6.5.9, 6.5.10, 6.5.12). */
export type Step =
  | { kind: 'crop'; left: number; top: number; widthPx: number; heightPx: number }
  /** Quarter turns against the clock. */
  | { kind: 'turn'; quarters: number }
  | { kind: 'mirror'; about: 'horizontal' | 'vertical' };

/** Size after a step. */
export function sizeAfter<T extends { widthPx: number; heightPx: number }>(size: T, step: Step) {
  if (step.kind === 'crop') return { widthPx: step.widthPx, heightPx: step.heightPx };
  const { widthPx, heightPx } = size;
  return step.kind === 'turn' && step.quarters % 2 === 1
    ? { widthPx: heightPx, heightPx: widthPx }
    : { widthPx, heightPx };
}

/** The picture after a step; every pixel is copied, none is computed. */
export function transform(from: Rgb, step: Step): Rgb {
  const size = sizeAfter(from, step);
  const data = new Uint8Array(3 * size.widthPx * size.heightPx);
  const { origin, right, down } = walkOf(from, step);
  let at = 0;
  for (let y = 0; y < size.heightPx; y++) {
    let source = origin + y * down;
    for (let x = 0; x < size.widthPx; x++, source += right) {
      data[at++] = from.data[3 * source]!;
      data[at++] = from.data[3 * source + 1]!;
      data[at++] = from.data[3 * source + 2]!;
    }
  }
  return { data, ...size };
}

/** Where in the source the result begins, and how far a step to the right and one down are there, in pixels. */
function walkOf({ widthPx, heightPx }: Rgb, step: Step): { origin: number; right: number; down: number } {
  const last = widthPx * heightPx - 1;
  if (step.kind === 'crop') return { origin: step.top * widthPx + step.left, right: 1, down: widthPx };
  if (step.kind === 'mirror')
    return step.about === 'horizontal'
      ? { origin: last - widthPx + 1, right: 1, down: -widthPx }
      : { origin: widthPx - 1, right: -1, down: widthPx };
  switch (step.quarters) {
    case 1:
      return { origin: widthPx - 1, right: widthPx, down: -1 };
    case 2:
      return { origin: last, right: -1, down: -widthPx };
    case 3:
      return { origin: last - widthPx + 1, right: -widthPx, down: 1 };
    default:
      return { origin: 0, right: 1, down: widthPx };
  }
}
