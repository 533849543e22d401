import { readText } from './read-text.js';

/** Datasets of record 2 (IPTC IIM 4.2) that name people, places and work; the rest are plain `other`. */
export const IPTC_NAMES: Record<number, string> = {
  5: 'ObjectName',
  25: 'Keywords',
  40: 'SpecialInstructions',
  55: 'DateCreated',
  60: 'TimeCreated',
  80: 'By-line',
  85: 'By-lineTitle',
  90: 'City',
  92: 'Sub-location',
  95: 'Province-State',
  101: 'Country',
  105: 'Headline',
  110: 'Credit',
  115: 'Source',
  116: 'CopyrightNotice',
  118: 'Contact',
  120: 'Caption',
  122: 'Writer',
  184: 'JobID',
};

/**
 * Datasets wherever they stand in the block: marker 1C, record 2, number, length (IIM 4.2, 1.5). The resource
 * blocks around them are not followed, so that a broken one hides nothing.
 */
export function readIptc(block: Uint8Array): { number: number; value: string }[] {
  const found: { number: number; value: string }[] = [];
  for (let at = block.indexOf(0x1c); at >= 0 && at + 5 <= block.length && found.length < 500; ) {
    const length = (block[at + 3]! << 8) | block[at + 4]!;
    const fits = block[at + 1] === 2 && length > 0 && length < 0x8000 && at + 5 + length <= block.length;
    if (fits)
      found.push({ number: block[at + 2]!, value: readText(block.subarray(at + 5, at + 5 + length)) });
    at = block.indexOf(0x1c, fits ? at + 5 + length : at + 1);
  }
  return found;
}
