import { viewOf } from '../../bytes.js';
import { refuseUnusual } from '../../refusal.js';
import { decimals, integers, leadingWords, type Take, words } from './kept-values.js';
import { type Source, textsOf } from './source-values.js';
import { type CopyElement, text } from './write-elements.js';

interface Kept {
  tag: number;
  vr: 'CS' | 'DS' | 'IS' | 'LO';
  take: Take;
}

const one = [1, 1] as const;
const pair = [2, 2] as const;
/** Millimetres of one pixel, from a microscope to a telescope's idea of a tooth. */
const pixelMm = { count: pair, within: [1e-6, 100] } as const;
/** Stored or transformed grey values have at most 16 bits; windows may reach beyond them. */
const MOST_GREY = 1e6;
const greys = [-MOST_GREY, MOST_GREY] as const;

const AXES = ['A', 'P', 'R', 'L', 'H', 'F'];
/** PS3.3, C.7.6.1.1.1: one to three letters of different axes for rows, then for columns. */
const DIRECTIONS = AXES.flatMap((a) => [a, ...AXES.flatMap((b) => [a + b, ...AXES.map((c) => a + b + c)])]);

/**
 * Everything that stays as a value of its own: what rendering, scale and tooth need, and nothing else. Tags and VRs:
 * PS3.6, table 6-1; words: PS3.3, at the attribute. The pixel module, tables, codes and UIDs are made elsewhere.
 */
const KEPT: readonly Kept[] = [
  // Image Type, C.7.6.1.1.2: a vendor's words in places 3 and up can be anything, so the known ones only
  {
    tag: 0x00080008,
    vr: 'CS',
    take: leadingWords(['ORIGINAL', 'DERIVED'], ['PRIMARY', 'SECONDARY'], ['', 'AXIAL', 'LOCALIZER']),
  },
  // Slice Thickness, mm
  { tag: 0x00180050, vr: 'DS', take: decimals({ count: one, within: [1e-4, 100] }) },
  // Estimated Radiographic Magnification Factor
  { tag: 0x00181114, vr: 'DS', take: decimals({ count: one, within: [0.01, 100] }) },
  // Imager Pixel Spacing (at the receptor), Nominal Scanned Pixel Spacing, both row first, mm
  { tag: 0x00181164, vr: 'DS', take: decimals(pixelMm) },
  { tag: 0x00182010, vr: 'DS', take: decimals(pixelMm) },
  // Patient Orientation
  { tag: 0x00200020, vr: 'CS', take: words(DIRECTIONS, 2) },
  // Image Position and Orientation (Patient), mm and cosines: where a slice lies in its scan
  { tag: 0x00200032, vr: 'DS', take: decimals({ count: [3, 3], within: [-10_000, 10_000] }) },
  { tag: 0x00200037, vr: 'DS', take: decimals({ count: [6, 6], within: [-1, 1] }) },
  // Laterality, Image Laterality
  { tag: 0x00200060, vr: 'CS', take: words(['R', 'L']) },
  { tag: 0x00200062, vr: 'CS', take: words(['R', 'L', 'B', 'U']) },
  // Pixel Spacing, Pixel Aspect Ratio
  { tag: 0x00280030, vr: 'DS', take: decimals(pixelMm) },
  { tag: 0x00280034, vr: 'IS', take: integers({ count: pair, within: [1, 10_000] }) },
  // Burned In Annotation: a warning stays, an all-clear is no one's to take on trust
  { tag: 0x00280301, vr: 'CS', take: words(['YES']) },
  // Pixel Spacing Calibration Type
  { tag: 0x00280a02, vr: 'CS', take: words(['GEOMETRY', 'FIDUCIAL']) },
  // Pixel Intensity Relationship
  { tag: 0x00281040, vr: 'CS', take: words(['LIN', 'LOG', 'DISP']) },
  // Window Center and Width, VOI LUT Function
  { tag: 0x00281050, vr: 'DS', take: decimals({ count: [1, 32], within: greys }) },
  { tag: 0x00281051, vr: 'DS', take: decimals({ count: [1, 32], within: [1e-6, MOST_GREY] }) },
  { tag: 0x00281056, vr: 'CS', take: words(['LINEAR', 'LINEAR_EXACT', 'SIGMOID']) },
  // Rescale Intercept, Slope, Type
  { tag: 0x00281052, vr: 'DS', take: decimals({ count: one, within: greys }) },
  { tag: 0x00281053, vr: 'DS', take: decimals({ count: one, within: greys }) },
  {
    tag: 0x00281054,
    vr: 'LO',
    take: words(['OD', 'HU', 'US', 'MGML', 'Z_EFF', 'ED', 'EDW', 'HU_MOD', 'PCT']),
  },
  // Presentation LUT Shape
  { tag: 0x20500020, vr: 'CS', take: words(['IDENTITY', 'INVERSE']) },
];

/** Window Center and Width, Rescale Intercept and Slope: of no use alone, and never to be guessed. */
const PAIRS = [
  [0x00281050, 0x00281051],
  [0x00281052, 0x00281053],
] as const;

/**
 * What of the source stays as it is, each value checked against its VR and its list, and written anew. Refuses numbers
 * of rendering that are beyond belief: without them the picture would be shown otherwise.
 */
export function keptAttributes(source: Source): CopyElement[] {
  for (const tag of PAIRS.flat()) refuseBeyondBelief(source, tag);
  const kept = keptAlone(source);
  return PAIRS.reduce((elements, [one, other]) => pairUp(elements, one, other), kept);
}

/** As many values of each as there are of both; none where one is missing. */
function pairUp(elements: CopyElement[], ...pair: [number, number]): CopyElement[] {
  const valuesOf = (tag: number): string[] => {
    const element = elements.find((one) => one.tag === tag);
    return element && 'value' in element ? viewOf(element.value).toString('latin1').split('\\') : [];
  };
  const count = Math.min(...pair.map((tag) => valuesOf(tag).length));
  const others = elements.filter(({ tag }) => !pair.includes(tag));
  if (count === 0) return others;
  return [...others, ...pair.map((tag) => text(tag, 'DS', ...valuesOf(tag).slice(0, count)))];
}

function refuseBeyondBelief(source: Source, tag: number): void {
  const values = textsOf(source, tag, 'DS')
    .filter((value) => value !== '')
    .map(Number);
  if (values.some((value) => Math.abs(value) > MOST_GREY))
    refuseUnusual('DICOM', 'grey values that are shown in a way that cannot be checked');
}

function keptAlone(source: Source): CopyElement[] {
  return KEPT.flatMap(({ tag, vr, take }) => {
    const values = take(textsOf(source, tag, vr));
    return values ? [text(tag, vr, ...values)] : [];
  });
}
