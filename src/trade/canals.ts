import { innerSide, isPrimary, isUpper, placeOf } from './teeth.js';
import type { CanalEntry } from './visit-document.js';

/**
 * Canal labels by tooth. Trade usage, no single source; how often the variants occur is in the literature (for
 * example Int J Dent 2012, 814789, on naming extra canals). `main` is the one canal of a single-canal tooth, `C` the
 * slit of a C-shaped one.
 */
export interface CanalLabels {
  /** In the usual order of mention. */
  usual: string[];
  variants: string[];
}

const UPPER: readonly CanalLabels[] = [
  { usual: ['main'], variants: ['B', 'P'] },
  { usual: ['main'], variants: ['B', 'P'] },
  { usual: ['main'], variants: ['B', 'P'] },
  { usual: ['B', 'P'], variants: ['main', 'MB', 'DB'] },
  { usual: ['main', 'B', 'P'], variants: ['MB', 'DB'] },
  { usual: ['MB1', 'MB2', 'DB', 'P'], variants: ['MB3', 'DB2', 'P1', 'P2', 'MP', 'DP'] },
  { usual: ['MB1', 'MB2', 'DB', 'P'], variants: ['main', 'B'] },
  { usual: ['MB1', 'MB2', 'DB', 'P'], variants: ['main', 'B'] },
];

const LOWER: readonly CanalLabels[] = [
  { usual: ['main', 'B', 'L'], variants: [] },
  { usual: ['main', 'B', 'L'], variants: [] },
  { usual: ['main', 'B', 'L'], variants: [] },
  { usual: ['main', 'B', 'L'], variants: ['MB', 'DB'] },
  { usual: ['main', 'B', 'L'], variants: ['C'] },
  { usual: ['MB', 'ML', 'D', 'DB', 'DL'], variants: ['MM', 'MD'] },
  { usual: ['MB', 'ML', 'D'], variants: ['DB', 'DL', 'MM', 'M', 'C', 'main'] },
  { usual: ['MB', 'ML', 'D'], variants: ['DB', 'DL', 'MM', 'M', 'C', 'main'] },
];

const PRIMARY_UPPER: readonly CanalLabels[] = [
  ...Array.from({ length: 3 }, () => ({ usual: ['main'], variants: [] })),
  { usual: ['MB1', 'DB', 'P'], variants: [] },
  { usual: ['MB1', 'DB', 'P'], variants: ['MB2'] },
];

const PRIMARY_LOWER: readonly CanalLabels[] = [
  ...Array.from({ length: 3 }, () => ({ usual: ['main'], variants: [] })),
  { usual: ['MB', 'ML', 'D', 'DB', 'DL'], variants: ['M'] },
  { usual: ['MB', 'ML', 'D', 'DB', 'DL'], variants: ['M'] },
];

/** The labels a tooth usually has, and the variants that raise no question. */
export function canalLabels(fdi: number): CanalLabels {
  const permanent = isUpper(fdi) ? UPPER : LOWER;
  const primary = isUpper(fdi) ? PRIMARY_UPPER : PRIMARY_LOWER;
  return (isPrimary(fdi) ? primary : permanent)[placeOf(fdi) - 1] as CanalLabels;
}

/** True where the mesiobuccal canal is counted, MB1 and MB2: the upper molars. */
const countsMesiobuccal = (fdi: number): boolean => isUpper(fdi) && placeOf(fdi) >= (isPrimary(fdi) ? 4 : 6);

const isLowerMolar = (fdi: number): boolean => !isUpper(fdi) && placeOf(fdi) >= (isPrimary(fdi) ? 4 : 6);

const WORDS: Record<string, string> = {
  MAIN: 'main',
  SINGLE: 'main',
  'C-SHAPE': 'C',
  'C-SHAPED': 'C',
  BUCCAL: 'B',
  LABIAL: 'B',
  FACIAL: 'B',
  PALATAL: 'P',
  LINGUAL: 'L',
  MESIAL: 'M',
  DISTAL: 'D',
  MESIOBUCCAL: 'MB',
  MESIOLINGUAL: 'ML',
  DISTOBUCCAL: 'DB',
  DISTOLINGUAL: 'DL',
  MESIOPALATAL: 'MP',
  DISTOPALATAL: 'DP',
  'MIDDLE MESIAL': 'MM',
  'MIDDLE DISTAL': 'MD',
};

/**
 * One spelling for labels that mean the same canal of this tooth: capitals, words, MB and MB1 in an upper molar, L
 * for P in the upper jaw, DM for MD in a lower molar. For comparing and placing; what is shown stays as recorded.
 */
export function canonicalCanal(fdi: number, label: string): string {
  const upper = label.normalize('NFC').trim().replace(/\s+/g, ' ').toUpperCase();
  const word = WORDS[upper] ?? upper;
  if (word === 'MB' && countsMesiobuccal(fdi)) return 'MB1';
  if (word === 'L' && isUpper(fdi)) return 'P';
  if (word === 'DM' && isLowerMolar(fdi)) return 'MD';
  return word;
}

/** `wrong` is a definite naming error; `unusual` only deserves a second look, since extra canals exist. */
export type CanalStanding = 'usual' | 'variant' | 'unusual' | 'wrong';

export function canalStanding(fdi: number, label: string): CanalStanding {
  const name = canonicalCanal(fdi, label);
  const { usual, variants } = canalLabels(fdi);
  if (usual.includes(name)) return 'usual';
  if (variants.includes(name)) return 'variant';
  return innerSide(fdi) === 'L' && /^P\d?$/.test(name) ? 'wrong' : 'unusual';
}

export const isSameCanal = (fdi: number | null, a: string, b: string): boolean =>
  fdi === null
    ? a.trim().toUpperCase() === b.trim().toUpperCase()
    : canonicalCanal(fdi, a) === canonicalCanal(fdi, b);

const NOT_FILLED = /^(no|none|not|nil|nothing|empty|unfilled)\b|^-+$/i;

/** True when a filling is recorded; "none" or "not filled" says the opposite. */
export const isFilled = (canal: Pick<CanalEntry, 'filled'>): boolean =>
  canal.filled !== null && canal.filled.trim() !== '' && !NOT_FILLED.test(canal.filled.trim());
