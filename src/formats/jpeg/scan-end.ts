import type { JpegFrame, JpegScan } from './frame.js';
import { bitsOf, type CodeTable, codeTable, NO_CODES, needOf, QUICK_BITS, stepOf } from './huffman-codes.js';
import { DHT } from './markers.js';

/** The tables of one block of an MCU. */
interface BlockTables {
  dc: CodeTable;
  ac: CodeTable;
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
  const made = new Map(
    scan.tables.filter(({ marker }) => marker === DHT).map((table) => [table.body[0]!, codeTable(table)]),
  );
  const tableOf = (number: number): CodeTable => made.get(number) ?? NO_CODES;
  return scan.components.flatMap(({ id, dc, ac }) => {
    const component = frame.components.find((entry) => entry.id === id)!;
    const blocks = scan.components.length === 1 ? 1 : component.across * component.down;
    return new Array<BlockTables>(blocks).fill({ dc: tableOf(dc), ac: tableOf(16 | ac) });
  });
}

/**
 * One tight loop with its state in locals: a 12-megapixel picture has millions of codes. Only the `held` lower bits
 * of `bits` are still to be read; fewer than none when a value reaches further than what was read in.
 */
function walkBlocks(data: Uint8Array, plan: BlockTables[], mcus: number): number | null {
  const end = data.length;
  let at = 0;
  let bits = 0;
  let held = 0;
  for (let mcu = 0; mcu < mcus; mcu++)
    for (let unit = 0; unit < plan.length; unit++) {
      const { dc, ac } = plan[unit]!;
      for (let k = 0; k < 64; ) {
        // Reading on past the end gives ones, as the padding does.
        while (held < 25) {
          const byte = at < end ? data[at]! : 0xff;
          at += byte === 0xff && at < end ? 2 : 1;
          bits = (bits << 8) | byte;
          held += 8;
        }
        const table = k === 0 ? dc : ac;
        let entry = table.quick[(bits >>> (held - QUICK_BITS)) & ((1 << QUICK_BITS) - 1)]!;
        if (entry === 0 || k + needOf(entry) > 64) {
          entry = table.one[(bits >>> (held - 16)) & 0xffff]!;
          if (entry === 0 || k + needOf(entry) > 64) return null;
        }
        held -= bitsOf(entry);
        k += stepOf(entry);
      }
    }
  return endAt(data, at, held);
}

/** Whole bytes still unread are given back, or those still to be read are taken; an FF takes its stuffed zero along. */
function endAt(data: Uint8Array, read: number, held: number): number | null {
  let end = read;
  for (let left = held; left < 0; left += 8) end += data[end] === 0xff ? 2 : 1;
  for (let left = held; left >= 8; left -= 8) {
    const stuffed = end <= data.length && data[end - 1] === 0 && data[end - 2] === 0xff;
    end -= stuffed ? 2 : 1;
  }
  return end > data.length ? null : end;
}
