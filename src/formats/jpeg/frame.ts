import { viewOf } from '../bytes.js';
import { LIMIT_PX } from '../format.js';
import { refuseDamaged, refuseTooLarge, refuseUnusual } from '../refusal.js';
import type { JpegTable } from './tables.js';

export interface JpegFrame {
  marker: number;
  body: Uint8Array;
  progressive: boolean;
  widthPx: number;
  heightPx: number;
  components: { id: number; across: number; down: number; quantisation: number }[];
}

export interface JpegScan {
  /** Tables to emit before it. */
  tables: JpegTable[];
  /** MCUs between restart markers; 0 for none. */
  restartInterval: number;
  body: Uint8Array;
  components: { id: number; dc: number; ac: number }[];
  /** Spectral selection Ss, Se and the high bit Ah of successive approximation (ITU-T T.81 B.2.3). */
  first: number;
  last: number;
  high: number;
  /** Entropy-coded data with its restart markers. */
  data: Uint8Array[];
}

/** Frame header, ITU-T T.81 B.2.2. Held: all processes but baseline, extended and progressive Huffman at 8 bits. */
export function readFrame(marker: number, body: Uint8Array): JpegFrame {
  if (marker > 0xc2) refuseUnusual('JPEG', processOf(marker));
  const view = viewOf(body);
  const count = view.readUInt8(5);
  if (body.length !== 6 + 3 * count) refuseDamaged('JPEG', 'its frame header is broken');
  if (view.readUInt8(0) !== 8) refuseUnusual('JPEG', `${view.readUInt8(0)} bits a channel`);
  if (![1, 3, 4].includes(count)) refuseUnusual('JPEG', `${count} colour channels`);
  const [heightPx, widthPx] = [view.readUInt16BE(1), view.readUInt16BE(3)];
  if (heightPx === 0) refuseUnusual('JPEG', 'a height that is only told after the picture');
  if (widthPx === 0) refuseDamaged('JPEG', 'its width is zero');
  if (widthPx * heightPx > LIMIT_PX) refuseTooLarge(widthPx, heightPx, LIMIT_PX);
  const components = Array.from({ length: count }, (_, index) => {
    const at = 6 + 3 * index;
    const sampling = view.readUInt8(at + 1);
    return {
      id: view.readUInt8(at),
      across: sampling >> 4,
      down: sampling & 15,
      quantisation: view.readUInt8(at + 2),
    };
  });
  const sound = components.every(
    ({ across, down, quantisation }) => inRange(across, 1, 4) && inRange(down, 1, 4) && quantisation <= 3,
  );
  if (!sound || new Set(components.map(({ id }) => id)).size !== count)
    refuseDamaged('JPEG', 'its frame header is broken');
  return { marker, body, progressive: marker === 0xc2, widthPx, heightPx, components };
}

/** Scan header, ITU-T T.81 B.2.3. */
export function readScanHeader(frame: JpegFrame, body: Uint8Array) {
  const view = viewOf(body);
  const count = view.readUInt8(0);
  if (!inRange(count, 1, 4) || body.length !== 4 + 2 * count)
    refuseDamaged('JPEG', 'a scan header is broken');
  const components = Array.from({ length: count }, (_, index) => {
    const tables = view.readUInt8(2 + 2 * index);
    return { id: view.readUInt8(1 + 2 * index), dc: tables >> 4, ac: tables & 15 };
  });
  const [first, last, approximation] = [body.at(-3)!, body.at(-2)!, body.at(-1)!];
  const known = components.every(
    ({ id, dc, ac }) => dc <= 3 && ac <= 3 && componentOf(frame, id) !== undefined,
  );
  const sequential = frame.progressive || (first === 0 && last === 63 && approximation === 0);
  const unique = new Set(components.map(({ id }) => id)).size === count;
  const band = first === 0 ? last === 0 || !frame.progressive : count === 1 && last >= first && last <= 63;
  if (!known || !sequential || !unique || !band) refuseDamaged('JPEG', 'a scan header is broken');
  return { body, components, first, last, high: approximation >> 4 };
}

/**
 * Restart markers a scan must hold: one between each two runs of `interval` MCUs. More would be room to hide data
 * in, since decoders stop at the last MCU.
 */
export function restartsExpected(
  frame: JpegFrame,
  scan: Pick<JpegScan, 'components'>,
  interval: number,
): number {
  return interval === 0 ? 0 : Math.ceil(mcusOf(frame, scan) / interval) - 1;
}

/** Minimum coded units of a scan (ITU-T T.81 A.2): blocks of one channel alone, or interleaved groups of blocks. */
export function mcusOf(frame: JpegFrame, scan: Pick<JpegScan, 'components'>): number {
  const mostAcross = Math.max(...frame.components.map(({ across }) => across));
  const mostDown = Math.max(...frame.components.map(({ down }) => down));
  const only = scan.components.length === 1 ? componentOf(frame, scan.components[0]!.id) : undefined;
  if (!only) return Math.ceil(frame.widthPx / (8 * mostAcross)) * Math.ceil(frame.heightPx / (8 * mostDown));
  return (
    Math.ceil(Math.ceil((frame.widthPx * only.across) / mostAcross) / 8) *
    Math.ceil(Math.ceil((frame.heightPx * only.down) / mostDown) / 8)
  );
}

const componentOf = (frame: JpegFrame, id: number) =>
  frame.components.find((component) => component.id === id);

const inRange = (value: number, from: number, to: number): boolean => value >= from && value <= to;

function processOf(marker: number): string {
  if (marker === 0xc3) return 'lossless coding';
  if (marker >= 0xc9) return 'arithmetic coding';
  return 'hierarchical coding';
}
