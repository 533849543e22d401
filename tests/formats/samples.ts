import type { FormatName } from '../../src/core/format-name.js';
import { drawColour, drawGrey16 } from '../fixtures/drawn-pixels.js';
import { exifBlock } from '../fixtures/exif-block.js';
import { codedItem, drawnHeic, exifItem, irot, makeHeic } from '../fixtures/heic-pieces.js';
import { restartJpeg } from '../fixtures/jpeg-pieces.js';
import { greyFields, makeTiff } from '../fixtures/tiff-pieces.js';

/** Sound pictures of every format and kind of coding; all are written without metadata. */
export async function drawSamples(): Promise<{ name: string; format: FormatName; bytes: Buffer }[]> {
  const jpeg: Record<string, Promise<Buffer>> = {
    'JPEG, baseline': drawColour().jpeg().toBuffer(),
    'JPEG, progressive': drawColour().jpeg({ progressive: true }).toBuffer(),
    'JPEG, no chroma subsampling': drawColour().jpeg({ chromaSubsampling: '4:4:4' }).toBuffer(),
    'JPEG, best Huffman tables': drawColour().jpeg({ optimiseCoding: true }).toBuffer(),
    'JPEG, grey': drawColour().grayscale().jpeg().toBuffer(),
    'JPEG, CMYK': drawColour().toColourspace('cmyk').jpeg().toBuffer(),
    'JPEG, restart markers': Promise.resolve(restartJpeg(20)),
    'JPEG, P3 profile': drawColour().withIccProfile('p3').jpeg().toBuffer(),
  };
  const png: Record<string, Promise<Buffer>> = {
    'PNG, colour': drawColour().png().toBuffer(),
    'PNG, with alpha': drawColour().ensureAlpha(0.5).png().toBuffer(),
    'PNG, palette': drawColour().png({ palette: true }).toBuffer(),
    'PNG, interlaced': drawColour().png({ progressive: true }).toBuffer(),
    'PNG, grey of 16 bits': drawGrey16().png().toBuffer(),
    'PNG, P3 profile': drawColour().withIccProfile('p3').png().toBuffer(),
  };
  const webp: Record<string, Promise<Buffer>> = {
    'WebP, lossy': drawColour().webp().toBuffer(),
    'WebP, lossless': drawColour().webp({ lossless: true }).toBuffer(),
    'WebP, with alpha': drawColour().ensureAlpha(0.5).webp().toBuffer(),
    'WebP, P3 profile': drawColour().withIccProfile('p3').webp().toBuffer(),
  };
  const tiff: Record<string, Promise<Buffer>> = {
    'TIFF, big endian': Promise.resolve(
      makeTiff([greyFields(21, 9)], Buffer.alloc(189, 'Pixels of a grey picture'), { big: true }),
    ),
    'TIFF, P3 profile': drawColour().withIccProfile('p3').tiff({ compression: 'lzw' }).toBuffer(),
    'TIFF, CMYK': drawColour().toColourspace('cmyk').tiff({ compression: 'lzw' }).toBuffer(),
    'TIFF, one bit': drawColour()
      .grayscale()
      .threshold()
      .tiff({ bitdepth: 1, compression: 'none' })
      .toBuffer(),
  };
  for (const compression of ['none', 'lzw', 'deflate', 'packbits'] as const)
    for (const tile of [false, true])
      for (const predictor of ['none', 'horizontal'] as const) {
        const options = { compression, tile, tileWidth: 32, tileHeight: 16, predictor };
        const name = `TIFF, ${compression}, ${tile ? 'tiles' : 'strips'}, prediction ${predictor}`;
        tiff[name] = drawColour().tiff(options).toBuffer();
        tiff[`${name}, grey of 16 bits`] = drawGrey16().tiff(options).toBuffer();
      }
  const heic: Record<string, Promise<Buffer>> = {
    'HEIC, whole': Promise.resolve(drawnHeic),
    'HEIC, turned': Promise.resolve(
      makeHeic([codedItem({ properties: [...codedItem().properties!, irot(1)] })]),
    ),
    'HEIC, with a second picture': Promise.resolve(
      makeHeic([codedItem(), codedItem(), exifItem(exifBlock([]))]),
    ),
  };
  const named = async (format: FormatName, all: Record<string, Promise<Buffer>>) =>
    Promise.all(Object.entries(all).map(async ([name, bytes]) => ({ name, format, bytes: await bytes })));
  return (
    await Promise.all([
      named('JPEG', jpeg),
      named('PNG', png),
      named('WebP', webp),
      named('TIFF', tiff),
      named('HEIC', heic),
    ])
  ).flat();
}
