import { type Source, textsOf } from './source-values.js';
import type { PixelModule } from './stored-pixels.js';
import { type CopyElement, sequence, text } from './write-elements.js';

export interface ObjectClass {
  uid: string;
  /** What the series is of when the source's word is not one of the known ones (PS3.3, C.7.3.1.1.1). */
  modality: string;
  /**
   * Attributes of type 1 that nobody may make up: a source that has none of a group becomes a secondary capture.
   * Those of items count as well.
   */
  needs: number[][];
  /** Attributes the class forbids and rendering needs: a source with one of them becomes a secondary capture. */
  mustNotHave?: readonly number[];
  /** Colours and bits the class allows, where it allows only some. */
  pixels?: { photometric: string[]; leastBits: number; mostBits: number; signed: boolean };
  /** The class asks for (0028,0301), and for the Presentation LUT Shape that `shapeOf` gives. */
  isRadiograph: boolean;
  /** What else the class asks for: empty where it may be (type 2), the only lawful or a neutral value elsewhere. */
  fills: CopyElement[];
}

const IMAGE_TYPE = 0x00080008;
const PRESENTATION = 'FOR PRESENTATION';
const PROCESSING = 'FOR PROCESSING';
/**
 * Imager Pixel Spacing, Patient Orientation, Image Laterality, Pixel Intensity Relationship and its sign, Lossy Image
 * Compression.
 */
const RADIOGRAPH_NEEDS = [
  IMAGE_TYPE,
  0x00181164,
  0x00200020,
  0x00200062,
  0x00281040,
  0x00281041,
  0x00282110,
].map((tag) => [tag]);
/** Which tooth, or which region of the jaw (PS3.3, C.8.11.9). */
const TOOTH_NEED = [0x00082220, 0x00082228];
const GREY = ['MONOCHROME1', 'MONOCHROME2'];
/** Acquisition Context Sequence: type 2, and empty (PS3.3, C.7.6.14). */
const emptyContext = sequence(0x00400555);

/** Windows and VOI LUTs, which only pictures for presentation may carry (PS3.3, C.8.11.3). */
const DISPLAY_CHOICES = [0x00281050, 0x00283010];

/** What the DX image module and its kin ask for (PS3.3, C.8.11): values of grey are not transformed again. */
const radiographFills = (intent: string, positioner: string): CopyElement[] => [
  text(0x00080068, 'CS', intent),
  text(0x00181508, 'CS', positioner),
  text(0x00187004, 'CS', ''),
  text(0x00281052, 'DS', '0'),
  text(0x00281053, 'DS', '1'),
  text(0x00281054, 'LO', 'US'),
  sequence(0x00082218),
  emptyContext,
];

function radiograph(uid: string, modality: string, intent: string): ObjectClass {
  return {
    ...{ uid, modality, isRadiograph: true },
    needs: [
      ...RADIOGRAPH_NEEDS,
      ...(modality === 'IO' ? [TOOTH_NEED] : []),
      ...(intent === PRESENTATION ? [DISPLAY_CHOICES] : []),
    ],
    pixels: { photometric: GREY, leastBits: 6, mostBits: 16, signed: false },
    // Positioner Type may be empty, save in the mouth
    fills: radiographFills(intent, modality === 'IO' ? 'NONE' : ''),
    ...(intent === PROCESSING ? { mustNotHave: DISPLAY_CHOICES } : {}),
  };
}

const lightPixels = { photometric: ['RGB', 'MONOCHROME2'], leastBits: 8, mostBits: 8, signed: false };
const light = (uid: string, modality: string): ObjectClass => ({
  ...{ uid, modality, needs: [[IMAGE_TYPE]], pixels: lightPixels, isRadiograph: false },
  fills: [text(0x00282110, 'CS', ''), emptyContext],
});

const STORAGE = '1.2.840.10008.5.1.4.1.1';
export const INTRA_ORAL = [`${STORAGE}.1.3`, `${STORAGE}.1.3.1`];

/** Secondary Capture Image Storage: asks for nothing that only the device knew (PS3.3, A.8.1). */
export const SECONDARY_CAPTURE: ObjectClass = {
  ...{ uid: `${STORAGE}.7`, modality: 'OT', needs: [], isRadiograph: false },
  // Conversion Type: made on a workstation
  fills: [text(0x00080064, 'CS', 'WSD')],
};

/** Image classes that pictures of a tooth come in (PS3.4, table B.5-1), single frames; any other becomes a capture. */
const CLASSES: readonly ObjectClass[] = [
  radiograph(`${STORAGE}.1.3`, 'IO', PRESENTATION),
  radiograph(`${STORAGE}.1.3.1`, 'IO', PROCESSING),
  radiograph(`${STORAGE}.1.1`, 'DX', PRESENTATION),
  radiograph(`${STORAGE}.1.1.1`, 'DX', PROCESSING),
  {
    // Computed Radiography Image Storage: Body Part Examined and View Position may be empty
    ...{ uid: `${STORAGE}.1`, modality: 'CR', needs: [], isRadiograph: false },
    fills: [text(0x00180015, 'CS', ''), text(0x00185101, 'CS', '')],
  },
  {
    // CT Image Storage: where the slice lies must be known
    ...{ uid: `${STORAGE}.2`, modality: 'CT', isRadiograph: false },
    needs: [
      [IMAGE_TYPE],
      ...[0x00200032, 0x00200037, 0x00200052, 0x00280030, 0x00281052].map((tag) => [tag]),
    ],
    pixels: { photometric: GREY, leastBits: 12, mostBits: 16, signed: true },
    // Slice Thickness, KVP, Patient Position, Acquisition Number, Position Reference Indicator
    fills: [
      text(0x00180050, 'DS', ''),
      text(0x00180060, 'DS', ''),
      text(0x00185100, 'CS', ''),
      text(0x00200012, 'IS', ''),
      text(0x00201040, 'LO', ''),
    ],
  },
  SECONDARY_CAPTURE,
  light(`${STORAGE}.77.1.2`, 'GM'),
  light(`${STORAGE}.77.1.4`, 'XC'),
];

/** The words for Modality that may stay (PS3.3, C.7.3.1.1.1). */
const MODALITIES = 'CR CT DX ES GM IO MG MR OP OT PX RF RG SM US XA XC'.split(' ');

export const modalityOf = (source: Source, { modality }: ObjectClass): string => {
  const [stated = ''] = textsOf(source, 0x00080060, 'CS');
  return MODALITIES.includes(stated) ? stated : modality;
};

/** What every image object asks for (PS3.3, C.7.1 to C.7.6.1): names, numbers, dates and times are empty. */
export const COMMON_FILLS: readonly CopyElement[] = [
  text(0x00080020, 'DA', ''),
  text(0x00080030, 'TM', ''),
  text(0x00080050, 'SH', ''),
  text(0x00080070, 'LO', ''),
  text(0x00080090, 'PN', ''),
  text(0x00100010, 'PN', ''),
  text(0x00100020, 'LO', ''),
  text(0x00100030, 'DA', ''),
  text(0x00100040, 'CS', ''),
  text(0x00200010, 'SH', ''),
  text(0x00200011, 'IS', ''),
  text(0x00200013, 'IS', '1'),
  text(0x00200020, 'CS', ''),
];

/**
 * The class of the copy: that of the source when it is known, a single frame, and everything the class asks of the
 * device is among what was kept; else a secondary capture.
 */
export function classOfCopy(
  source: Source,
  kept: { tags: ReadonlySet<number>; frames: number; picture: PixelModule },
): ObjectClass {
  const [uid = ''] = textsOf(source, 0x00080016, 'UI');
  const stated = CLASSES.find((known) => known.uid === uid);
  if (!stated || kept.frames > 1) return SECONDARY_CAPTURE;
  const { needs, mustNotHave = [], pixels } = stated;
  const complete = needs.every((group) => group.some((tag) => kept.tags.has(tag)));
  const lawful = !mustNotHave.some((tag) => kept.tags.has(tag));
  return complete && lawful && (!pixels || pixelsFit(kept.picture, pixels)) ? stated : SECONDARY_CAPTURE;
}

/** The one Presentation LUT Shape that is lawful for each kind of grey (PS3.3, C.8.11.3.1.2). */
export const shapeOf = ({ photometric }: PixelModule): string =>
  photometric === 'MONOCHROME1' ? 'INVERSE' : 'IDENTITY';

const pixelsFit = (picture: PixelModule, allowed: NonNullable<ObjectClass['pixels']>): boolean =>
  allowed.photometric.includes(picture.photometric) &&
  picture.bitsStored >= allowed.leastBits &&
  picture.bitsStored <= allowed.mostBits &&
  (allowed.signed || !picture.signed);
