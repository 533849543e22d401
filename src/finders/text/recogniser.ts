/** The recogniser net: what a line of text says. */
import type { FinderPicture } from '../finder.js';
import type { Net } from './detector.js';
import { resampled } from './resample.js';

export interface Reading {
  /** "" when nothing was read. */
  text: string;
  /** Mean over the characters read, 0-1; 0 when nothing was read. */
  confidence: number;
}

/** The height the net was trained at. */
const LINE_HEIGHT_PX = 48;
const NARROWEST_PX = 48;
/** About 80 characters; longer crops are squeezed. */
const WIDEST_PX = 1280;
/** Crops of one run are padded to a common width; the step keeps the padding small. */
const WIDTH_STEP_PX = 32;
const MOST_PIXELS_A_RUN = 48 * 1280;

/** One character a line; the net's class 0 is "no character", the class after the last key is a space. */
export function readKeys(keys: string): string[] {
  const lines = keys.split(/\r?\n/);
  if (lines.at(-1) === '') lines.pop();
  return ['', ...lines, ' '];
}

interface Line {
  index: number;
  crop: FinderPicture;
  paddedWidth: number;
}

/** Readings in the order of the crops. Crops are upright lines of text, any size. */
export async function readLines(
  net: Net,
  keys: readonly string[],
  crops: readonly FinderPicture[],
): Promise<Reading[]> {
  const lines = crops.map((crop, index): Line => {
    const wanted = Math.round((crop.widthPx * LINE_HEIGHT_PX) / crop.heightPx);
    const width = Math.min(WIDEST_PX, Math.max(NARROWEST_PX, wanted));
    const paddedWidth = Math.ceil(width / WIDTH_STEP_PX) * WIDTH_STEP_PX;
    return { index, crop: resampled(crop, width, LINE_HEIGHT_PX), paddedWidth };
  });
  lines.sort((a, b) => a.paddedWidth - b.paddedWidth || a.index - b.index);
  const readings: Reading[] = new Array(crops.length);
  for (const run of runsOf(lines)) await readRun(net, keys, run, readings);
  return readings;
}

/** Lines of one width together, as many as memory is meant for: a padding of its own would change a reading. */
function runsOf(lines: readonly Line[]): Line[][] {
  const runs: Line[][] = [];
  for (const line of lines) {
    const last = runs.at(-1);
    const fits =
      last?.[0]?.paddedWidth === line.paddedWidth &&
      (last.length + 1) * line.paddedWidth * LINE_HEIGHT_PX <= MOST_PIXELS_A_RUN;
    if (last && fits) last.push(line);
    else runs.push([line]);
  }
  return runs;
}

async function readRun(
  net: Net,
  keys: readonly string[],
  run: readonly Line[],
  readings: Reading[],
): Promise<void> {
  const width = run[0]!.paddedWidth;
  const size = 3 * LINE_HEIGHT_PX * width;
  const input = new Float32Array(run.length * size);
  run.forEach((line, at) => {
    fillLine(input.subarray(at * size, (at + 1) * size), line.crop, width);
  });
  const tensor = net.tensor(input, [run.length, 3, LINE_HEIGHT_PX, width]);
  const results = await net.session.run({ [net.session.inputNames[0]!]: tensor });
  const result = results[net.session.outputNames[0]!]!;
  const [, steps = 0, classes = 0] = result.dims;
  const data = result.data as Float32Array;
  run.forEach((line, at) => {
    const own = data.subarray(at * steps * classes, (at + 1) * steps * classes);
    readings[line.index] = readSteps(own, steps, classes, keys);
  });
  for (const one of Object.values(results)) one.dispose();
}

/** Blue, green, red as -1 to 1; what lies beyond the crop stays 0, the middle grey of training. */
function fillLine(
  into: Float32Array,
  { data, channels, widthPx, heightPx }: FinderPicture,
  width: number,
): void {
  const plane = width * heightPx;
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const from = (y * widthPx + x) * channels;
      for (let c = 0; c < 3; c++) {
        const value = data[from + (channels === 3 ? 2 - c : 0)]!;
        into[c * plane + y * width + x] = value / 127.5 - 1;
      }
    }
  }
}

/**
 * The likeliest class of each step; repeats of one class are one character unless a "no character" parts them
 * (connectionist temporal classification, greedy).
 */
export function readSteps(
  probabilities: Float32Array,
  steps: number,
  classes: number,
  keys: readonly string[],
): Reading {
  let text = '';
  let sum = 0;
  let count = 0;
  let before = 0;
  for (let step = 0; step < steps; step++) {
    let best = 0;
    let highest = -1;
    for (let i = 0; i < classes; i++) {
      const value = probabilities[step * classes + i]!;
      if (value > highest) {
        highest = value;
        best = i;
      }
    }
    if (best !== 0 && best !== before) {
      text += keys[best] ?? '';
      sum += highest;
      count += 1;
    }
    before = best;
  }
  const trimmed = text.trim();
  return { text: trimmed, confidence: trimmed === '' ? 0 : sum / count };
}
