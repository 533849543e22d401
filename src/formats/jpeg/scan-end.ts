import type { JpegFrame, JpegScan } from './frame.js';
import { DHT } from './markers.js';
import type { JpegTable } from './tables.js';

/** Table of 2^16 entries: code length in the high byte, symbol in the low; 0 for no code. */
function lookupOf(table: JpegTable): Uint16Array {
  const lookup = new Uint16Array(65536);
  let code = 0;
  let symbol = 17;
  for (let length = 1; length <= 16; length++) {
    for (let count = table.body[length]!; count > 0; count--) {
      const from = code << (16 - length);
      lookup.fill((length << 8) | table.body[symbol++]!, from, from + (1 << (16 - length)));
      code++;
    }
    code <<= 1;
  }
  return lookup;
}

interface BlockTables {
  dc: Uint16Array;
  ac: Uint16Array;
}

/**
 * Bytes of the last run of a baseline scan that hold blocks, read code by code without making pixels (ITU-T T.81
 * F.2.2). Decoders stop there and do not look at what follows, so it could be anything. `data`: entropy-coded bytes
 * after the last restart marker; `mcus`: how many units of blocks they hold. Null when they hold fewer.
 */
export function usedScanBytes(
  frame: JpegFrame,
  scan: JpegScan,
  data: Uint8Array,
  mcus: number,
): number | null {
  return walkBlocks(data, planOf(frame, scan), mcus);
}

/** The tables of each block of one MCU, in order. */
function planOf(frame: JpegFrame, scan: JpegScan): BlockTables[] {
  const lookups = new Map(scan.tables.map((table) => [`${table.marker} ${table.body[0]}`, table]));
  const made = new Map<string, Uint16Array>();
  const lookup = (key: string): Uint16Array => {
    const table = lookups.get(key);
    const known = made.get(key) ?? (table ? lookupOf(table) : new Uint16Array(65536));
    made.set(key, known);
    return known;
  };
  return scan.components.flatMap(({ id, dc, ac }) => {
    const component = frame.components.find((entry) => entry.id === id)!;
    const blocks = scan.components.length === 1 ? 1 : component.across * component.down;
    const tables = { dc: lookup(`${DHT} ${dc}`), ac: lookup(`${DHT} ${16 | ac}`) };
    return new Array<BlockTables>(blocks).fill(tables);
  });
}

/** One tight loop with its state in locals: a 12-megapixel picture has millions of codes. */
function walkBlocks(data: Uint8Array, plan: BlockTables[], mcus: number): number | null {
  const end = data.length;
  let at = 0;
  let bits = 0;
  let held = 0;
  for (let mcu = 0; mcu < mcus; mcu++)
    for (let unit = 0; unit < plan.length; unit++) {
      const { dc, ac } = plan[unit]!;
      for (let k = 0; k < 64; ) {
        // At most 9 + 8 bits more: 32 hold them, and reading on past the end gives ones, as the padding does.
        while (held < 17) {
          const byte = at < end ? data[at]! : 0xff;
          at += byte === 0xff && at < end ? 2 : 1;
          bits = ((bits << 8) | byte) & 0x1ffffff;
          held += 8;
        }
        const entry = (k === 0 ? dc : ac)[(bits >>> (held - 16)) & 0xffff]!;
        if (entry === 0) return null;
        const symbol = entry & 255;
        held -= entry >> 8;
        let size = k === 0 ? symbol : symbol & 15;
        if (k === 0) k = 1;
        else if (symbol === 0) k = 64;
        else k += (symbol >> 4) + 1;
        if (k > 64) return null;
        while (held < size) {
          const byte = at < end ? data[at]! : 0xff;
          at += byte === 0xff && at < end ? 2 : 1;
          size -= held;
          held = 8;
          bits = byte;
        }
        held -= size;
        bits &= (1 << held) - 1;
      }
    }
  return endAt(data, at, held);
}

/** Whole bytes still unread are given back; an FF takes its stuffed zero with it. */
function endAt(data: Uint8Array, read: number, held: number): number | null {
  let end = read;
  for (let left = held; left >= 8; left -= 8) {
    const stuffed = end <= data.length && data[end - 1] === 0 && data[end - 2] === 0xff;
    end -= stuffed ? 2 : 1;
  }
  return end > data.length ? null : end;
}
