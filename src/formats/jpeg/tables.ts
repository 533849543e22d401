import { sameBytes } from '../bytes.js';
import { refuseDamaged, refuseUnusual } from '../refusal.js';
import type { JpegFrame, JpegScan } from './frame.js';
import { DHT, DQT } from './markers.js';

/** One table in its own segment: DQT "Pq Tq values" or DHT "Tc Th counts symbols" (ITU-T T.81 B.2.4). */
export interface JpegTable {
  marker: number;
  body: Uint8Array;
}

/** The tables a decoder would hold at each scan, and which of them the output has been given already. */
export class TableStore {
  readonly #latest = new Map<string, JpegTable>();
  readonly #emitted = new Map<string, JpegTable>();

  defineQuantisation(segment: Uint8Array): void {
    for (let at = 0; at < segment.length; ) {
      const head = segment[at]!;
      const size = 1 + (head >> 4 === 0 ? 64 : 128);
      if (head >> 4 > 1 || (head & 15) > 3 || at + size > segment.length)
        refuseDamaged('JPEG', 'a quantisation table is broken');
      this.#latest.set(`q${head & 15}`, { marker: DQT, body: segment.subarray(at, at + size) });
      at += size;
    }
  }

  defineHuffman(segment: Uint8Array): void {
    for (let at = 0; at < segment.length; ) {
      const head = segment[at]!;
      if (head >> 4 > 1 || (head & 15) > 3 || at + 17 > segment.length)
        refuseDamaged('JPEG', 'a Huffman table is broken');
      const size = 17 + countSymbols(segment.subarray(at + 1, at + 17));
      if (at + size > segment.length) refuseDamaged('JPEG', 'a Huffman table is broken');
      const body = segment.subarray(at, at + size);
      checkSymbols(head >> 4, body.subarray(17));
      this.#latest.set(`${head >> 4 === 0 ? 'd' : 'a'}${head & 15}`, { marker: DHT, body });
      at += size;
    }
  }

  /** Tables this scan needs that differ from what was emitted under their number before. */
  takeFor(
    frame: JpegFrame,
    scan: Pick<JpegScan, 'components' | 'first' | 'last' | 'high'>,
    isFirst: boolean,
  ) {
    const needed: string[] = [];
    const inScan = scan.components.map((component) => component.id);
    for (const component of frame.components)
      if (isFirst || inScan.includes(component.id)) needed.push(`q${component.quantisation}`);
    for (const component of scan.components) {
      if (!frame.progressive || (scan.first === 0 && scan.high === 0)) needed.push(`d${component.dc}`);
      if (!frame.progressive || scan.first > 0) needed.push(`a${component.ac}`);
    }
    return [...new Set(needed)].flatMap((key) => this.#take(key));
  }

  #take(key: string): JpegTable[] {
    const table = this.#latest.get(key);
    if (!table) refuseDamaged('JPEG', 'a table that the picture needs is missing');
    const before = this.#emitted.get(key);
    if (before && sameBytes(before.body, table.body)) return [];
    this.#emitted.set(key, table);
    return [table];
  }
}

/** Number of symbols; code lengths must fit a prefix code (Kraft), else the counts are not a table's. */
function countSymbols(counts: Uint8Array): number {
  let symbols = 0;
  let codes = 0;
  counts.forEach((count, index) => {
    symbols += count;
    codes += count * 2 ** (15 - index);
  });
  if (symbols > 256 || codes > 65536) refuseDamaged('JPEG', 'a Huffman table is broken');
  return symbols;
}

/** A symbol twice has no use to a decoder, and text smuggled into a table repeats letters. */
function checkSymbols(tableClass: number, symbols: Uint8Array): void {
  if (new Set(symbols).size !== symbols.length || (tableClass === 0 && symbols.some((symbol) => symbol > 15)))
    refuseUnusual('JPEG', 'a Huffman table with values no camera writes');
}
