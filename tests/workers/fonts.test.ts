import { create } from 'fontkit';
import { expect, test } from 'vitest';
import { loadFonts } from '../../src/workers/index.js';

test('the two faces of the sheet are there and are what they say', async () => {
  const { regular, semibold } = await loadFonts();
  const named = (bytes: Uint8Array) => {
    const font = create(Buffer.from(bytes));
    if (!('postscriptName' in font)) throw new Error('a collection, not one face');
    return font.postscriptName;
  };
  expect(named(regular)).toBe('SourceSans3-Regular');
  expect(named(semibold)).toBe('SourceSans3-SemiBold');
});
