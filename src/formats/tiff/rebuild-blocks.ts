import { deflateSync } from 'node:zlib';
import { inflate } from '../inflate.js';
import { refuseDamaged } from '../refusal.js';
import { DEFLATE, LZW, NONE, PACKBITS, type TiffLayout } from './layout.js';
import { type Unpacked, unpackBits, unpackLzw } from './unpack.js';

/** Blocks that hold the picture and nothing else, and the compression they are in. */
export interface RebuiltBlocks {
  compression: number;
  blocks: Uint8Array[];
  /** Blocks that carried bytes beyond their pixels. */
  slack: number;
}

/**
 * Strips keep their bytes up to the last one that decodes. Tiles reach past the picture's edge: what lies there is
 * zeroed, so they are unpacked, and packed again with deflate when they were packed.
 */
export function rebuildBlocks(file: Buffer, layout: TiffLayout): RebuiltBlocks {
  let slack = 0;
  const blocks = layout.blocks.map(({ offset, bytes }, index) => {
    const source = file.subarray(offset, offset + bytes);
    const { data, consumed } = unpackBlock(source, expectedBytes(layout, index), layout);
    if (consumed < source.length) slack++;
    if (!layout.tiled)
      return consumed === -1 ? deflateSync(data, { level: 6 }) : source.subarray(0, consumed);
    const cleared = clearBeyondEdges(data, layout, index);
    return layout.compression === NONE ? cleared : deflateSync(cleared, { level: 6 });
  });
  const repacked = layout.tiled && layout.compression !== NONE;
  return { compression: repacked ? DEFLATE : layout.compression, blocks, slack };
}

const rowBytes = (layout: TiffLayout): number => Math.ceil((layout.blockWidthPx * layout.pixelBits) / 8);

/** Place of a block: column and row of blocks within its plane. */
function placeOf(layout: TiffLayout, index: number): { column: number; row: number } {
  const across = Math.ceil(layout.widthPx / layout.blockWidthPx);
  const perPlane = across * Math.ceil(layout.heightPx / layout.blockHeightPx);
  const inPlane = index % perPlane;
  return { column: inPlane % across, row: Math.floor(inPlane / across) };
}

function rowsInPicture(layout: TiffLayout, index: number): number {
  return Math.min(layout.blockHeightPx, layout.heightPx - placeOf(layout, index).row * layout.blockHeightPx);
}

const expectedBytes = (layout: TiffLayout, index: number): number =>
  rowBytes(layout) * (layout.tiled ? layout.blockHeightPx : rowsInPicture(layout, index));

/** `consumed` -1: the stream holds more than the picture and must be packed again. */
function unpackBlock(source: Buffer, expected: number, { compression }: TiffLayout): Unpacked {
  const unpacked = unpackAs(compression, source, expected);
  return unpacked ?? refuseDamaged('TIFF', 'its picture data is broken');
}

function unpackAs(compression: number, source: Buffer, expected: number): Unpacked | null {
  switch (compression) {
    case NONE:
      return source.length < expected ? null : { data: source.subarray(0, expected), consumed: expected };
    case DEFLATE: {
      const { produced, consumed } = inflate('TIFF', source, Math.max(expected * 2, expected + 1_000_000));
      if (produced.length < expected) return null;
      return { data: produced.subarray(0, expected), consumed: produced.length > expected ? -1 : consumed };
    }
    case LZW:
      return unpackLzw(source, expected);
    case PACKBITS:
      return unpackBits(source, expected);
    default:
      return null;
  }
}

/** Zeroes what decoders crop. With horizontal prediction a row is summed from its left, so its right end is free. */
function clearBeyondEdges(data: Uint8Array, layout: TiffLayout, index: number): Uint8Array {
  const cleared = Uint8Array.from(data);
  const columns = Math.min(
    layout.blockWidthPx,
    layout.widthPx - placeOf(layout, index).column * layout.blockWidthPx,
  );
  const rows = rowsInPicture(layout, index);
  const [used, whole] = [Math.ceil((columns * layout.pixelBits) / 8), rowBytes(layout)];
  for (let row = 0; row < layout.blockHeightPx; row++)
    cleared.fill(0, row * whole + (row < rows ? used : 0), (row + 1) * whole);
  return cleared;
}
