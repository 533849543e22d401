import { type AnatomyCode, knownCode, MODIFIER_CODES, REGION_CODES, TOOTH_CODES } from './anatomy-codes.js';
import { findElement, itemSource, type Source, textsOf } from './source-values.js';
import { type CopyElement, sequence, text } from './write-elements.js';

const ANATOMIC_REGION = 0x00082218;
const REGION_MODIFIER = 0x00082220;
const PRIMARY_STRUCTURE = 0x00082228;

type Codes = ReadonlyMap<string, AnatomyCode>;

/**
 * Which region and which teeth the picture shows (PS3.3, 10.5), by the codes that are known, their meanings in our own
 * words. An entry with any other code is dropped whole: its meaning and its number may be anything.
 */
export function keptAnatomy(source: Source): CopyElement[] {
  const regions = keptCodes(source, ANATOMIC_REGION, REGION_CODES, (item) => {
    const modifiers = keptCodes(item, REGION_MODIFIER, MODIFIER_CODES, () => []);
    return modifiers.length > 0 ? [sequence(REGION_MODIFIER, ...modifiers)] : [];
  });
  const teeth = keptCodes(source, PRIMARY_STRUCTURE, TOOTH_CODES, () => []);
  return [
    // a single item is allowed for the region (PS3.3, table 10-6)
    ...(regions.length > 0 ? [sequence(ANATOMIC_REGION, regions[0]!)] : []),
    ...(teeth.length > 0 ? [sequence(PRIMARY_STRUCTURE, ...teeth)] : []),
  ];
}

/** For an intra-oral object, which shows this by its kind, when the source names no region that is known. */
export const mouthRegion = (): CopyElement =>
  sequence(ANATOMIC_REGION, codeItem(knownCode(REGION_CODES, 'SCT', '28035005')!));

/** Code Value, Coding Scheme Designator, Code Meaning (PS3.3, table 8.8-1a). */
export const codeItem = (entry: { code: string; scheme: string; meaning: string }): CopyElement[] => [
  text(0x00080100, 'SH', entry.code),
  text(0x00080102, 'SH', entry.scheme),
  text(0x00080104, 'LO', entry.meaning),
];

/** More entries than this are no description of a tooth; all teeth of both dentitions are 52. */
const MOST_ITEMS = 64;

function keptCodes(
  source: Source,
  tag: number,
  codes: Codes,
  within: (item: Source) => CopyElement[],
): CopyElement[][] {
  const items = findElement(source, tag)?.items ?? [];
  return items.slice(0, MOST_ITEMS).flatMap((elements) => {
    const item = itemSource(source, elements);
    const [scheme = ''] = textsOf(item, 0x00080102, 'SH');
    const [code = ''] = textsOf(item, 0x00080100, 'SH');
    const entry = knownCode(codes, scheme, code);
    return entry ? [[...codeItem(entry), ...within(item)]] : [];
  });
}
