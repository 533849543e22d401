/**
 * What may stand in a de-identified copy: tag, VR, and what its value may be. Written apart from the list the copy is
 * made by, so that a slip there is found here. `uid`: of the standard, or 2.25 and a number (PS3.5, B.2); `number`:
 * decimal or integer strings, as many as given; `is`: one of these words, in each of its values; `bytes`: as many as
 * given; `empty`; `samples` and `table`: the length that follows from other elements; `items`: a sequence of these.
 */
export type Allowed =
  | { vr: string; kind: 'uid' | 'empty' | 'samples' | 'table' }
  | { vr: string; kind: 'number' | 'bytes'; most: number }
  | { vr: string; kind: 'is'; words: RegExp }
  | { vr: 'SQ'; kind: 'items'; of: AllowedElements };

export type AllowedElements = ReadonlyMap<number, readonly Allowed[]>;

type Row = [tag: number, ...allowed: Allowed[]];

const list = (...rows: Row[]): AllowedElements => new Map(rows.map(([tag, ...allowed]) => [tag, allowed]));
const empty = (vr: string): Allowed => ({ vr, kind: 'empty' });
const uid: Allowed = { vr: 'UI', kind: 'uid' };
const numbers = (vr: 'DS' | 'IS', most: number): Allowed => ({ vr, kind: 'number', most });
const bytes = (vr: string, most: number): Allowed => ({ vr, kind: 'bytes', most });
const is = (vr: string, words: RegExp): Allowed => ({ vr, kind: 'is', words });
const items = (of: AllowedElements): Allowed => ({ vr: 'SQ', kind: 'items', of });
const table: Allowed = { vr: 'OW', kind: 'table' };
const word: Allowed = bytes('US', 2);
const descriptor: Allowed[] = [bytes('US', 6), bytes('SS', 6)];

/** PS3.10, table 7.1-1. */
export const ALLOWED_META = list(
  [0x00020000, bytes('UL', 4)],
  [0x00020001, bytes('OB', 2)],
  [0x00020002, uid],
  [0x00020003, uid],
  [0x00020010, is('UI', /^1\.2\.840\.10008\.1\.2\.1$/)],
  [0x00020012, uid],
  [0x00020013, is('SH', /^SCOPELEAF_\d+$/)],
);

/** SRT and SCT codes of PS3.16, CID 4016 to 4019 and 4025; the two of CID 7050 that say what was done. */
const coded = (code: RegExp, scheme: RegExp, meaning: RegExp, ...more: Row[]): Allowed =>
  items(
    list(
      [0x00080100, is('SH', code)],
      [0x00080102, is('SH', scheme)],
      [0x00080104, is('LO', meaning)],
      ...more,
    ),
  );

const ANATOMY = /^(?:[TRD]-[0-9A-F]{5}|\d{6,9})$/;
const SCHEME = /^(?:SRT|SCT)$/;
const TOOTH = /^(?:tooth|supernumerary tooth beside) [1-8][1-8] \(ISO 3950\)$/;
const REGION =
  /^(?:teeth, gums and supporting structures|jaw region|maxilla|mandible|(?:central incisor|lateral incisor|canine|(?:first|second) premolar|(?:first|second|third) molar) region)$/;
const METHOD = /^(?:PS3\.15 Annex E Basic Profile|kept by allow-list|UIDs keyed|dates removed)$/;
const PROFILE = /^(?:Basic Application Confidentiality Profile|Clean Pixel Data Option)$/;

const IMAGE_TYPE = /^(?:ORIGINAL|DERIVED|PRIMARY|SECONDARY|AXIAL|LOCALIZER|)$/;
const MODALITY = /^(?:CR|CT|DX|ES|GM|IO|MG|MR|OP|OT|PX|RF|RG|SM|US|XA|XC)$/;
const DIRECTION = /^[APRLHF]{0,3}$/;
const COLOUR = /^(?:MONOCHROME[12]|PALETTE COLOR|RGB)$/;
const UNIT = /^(?:OD|HU|US|MGML|Z_EFF|ED|EDW|HU_MOD|PCT)$/;
const lookUp = items(
  list([0x00283002, ...descriptor], [0x00283004, is('LO', /^(?:OD|HU|US)$/)], [0x00283006, table]),
);

/** The data set. Sources: PS3.6, table 6-1 for VRs; PS3.3 for the words, at the attribute. */
export const ALLOWED = list(
  [0x00080008, is('CS', IMAGE_TYPE)],
  [0x00080016, uid],
  [0x00080018, uid],
  [0x00080020, empty('DA')],
  [0x00080030, empty('TM')],
  [0x00080050, empty('SH')],
  [0x00080060, is('CS', MODALITY)],
  [0x00080064, is('CS', /^WSD$/)],
  [0x00080068, is('CS', /^FOR (?:PRESENTATION|PROCESSING)$/)],
  [0x00080070, empty('LO')],
  [0x00080090, empty('PN')],
  [0x00082218, coded(ANATOMY, SCHEME, REGION, [0x00082220, coded(ANATOMY, SCHEME, REGION)])],
  [0x00082228, coded(ANATOMY, SCHEME, TOOTH)],
  [0x00100010, empty('PN')],
  [0x00100020, empty('LO')],
  [0x00100030, empty('DA')],
  [0x00100040, empty('CS')],
  [0x00120062, is('CS', /^YES$/)],
  [0x00120063, is('LO', METHOD)],
  [0x00120064, coded(/^11310[01]$/, /^DCM$/, PROFILE)],
  [0x00180015, empty('CS')],
  [0x00180050, numbers('DS', 1)],
  [0x00180060, empty('DS')],
  [0x00181114, numbers('DS', 1)],
  [0x00181164, numbers('DS', 2)],
  [0x00181508, is('CS', /^NONE$/)],
  [0x00182010, numbers('DS', 2)],
  [0x00185100, empty('CS')],
  [0x00185101, empty('CS')],
  [0x00187004, empty('CS')],
  [0x0020000d, uid],
  [0x0020000e, uid],
  [0x00200010, empty('SH')],
  [0x00200011, empty('IS')],
  [0x00200012, empty('IS')],
  [0x00200013, is('IS', /^1$/)],
  [0x00200020, is('CS', DIRECTION)],
  [0x00200032, numbers('DS', 3)],
  [0x00200037, numbers('DS', 6)],
  [0x00200052, uid],
  [0x00200060, is('CS', /^[RL]$/)],
  [0x00200062, is('CS', /^[RLBU]$/)],
  [0x00201040, empty('LO')],
  [0x00280002, word],
  [0x00280004, is('CS', COLOUR)],
  [0x00280006, word],
  [0x00280010, word],
  [0x00280011, word],
  [0x00280030, numbers('DS', 2)],
  [0x00280034, numbers('IS', 2)],
  [0x00280100, word],
  [0x00280101, word],
  [0x00280102, word],
  [0x00280103, word],
  [0x00280120, word, bytes('SS', 2)],
  [0x00280121, word, bytes('SS', 2)],
  [0x00280301, is('CS', /^(?:YES|NO)$/)],
  [0x00280303, is('CS', /^REMOVED$/)],
  [0x00280a02, is('CS', /^(?:GEOMETRY|FIDUCIAL)$/)],
  [0x00280a04, is('LO', /^not stated$/)],
  [0x00281040, is('CS', /^(?:LIN|LOG|DISP)$/)],
  [0x00281041, bytes('SS', 2)],
  [0x00281050, numbers('DS', 32)],
  [0x00281051, numbers('DS', 32)],
  [0x00281052, numbers('DS', 1)],
  [0x00281053, numbers('DS', 1)],
  [0x00281054, is('LO', UNIT)],
  [0x00281056, is('CS', /^(?:LINEAR|LINEAR_EXACT|SIGMOID)$/)],
  [0x00281101, ...descriptor],
  [0x00281102, ...descriptor],
  [0x00281103, ...descriptor],
  [0x00281201, table],
  [0x00281202, table],
  [0x00281203, table],
  [0x00282110, is('CS', /^0[01]$/)],
  [0x00282112, numbers('DS', 8)],
  [0x00282114, is('CS', /^ISO_(?:10918_1|14495_1|15444_1|15444_15)$/)],
  [0x00283000, lookUp],
  [0x00283010, lookUp],
  [0x00400555, items(list())],
  [0x20500020, is('CS', /^(?:IDENTITY|INVERSE)$/)],
  [0x7fe00010, { vr: 'OB', kind: 'samples' }, { vr: 'OW', kind: 'samples' }],
);
