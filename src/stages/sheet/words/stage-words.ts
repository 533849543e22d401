import type { Band, StageWord } from '../../../trade/stages.js';
import type { ViewWord } from '../../../trade/views.js';
import type { TreatmentKind, VisitState } from '../../../trade/visit-document.js';

export const NBSP = '\u00a0';

export const BAND_WORDS: Record<Band, string> = { before: 'Before', during: 'During', after: 'After' };

/** Stage words as a sheet prints them. */
export const STAGE_TEXT: Record<Exclude<StageWord, 'other'>, string> = {
  'pre-op': 'pre-operative',
  tests: 'tests',
  isolation: 'isolation',
  access: 'access',
  disassembly: 'disassembly',
  orifices: 'orifices',
  negotiation: 'negotiation',
  'working-length': 'working length',
  shaping: 'shaping',
  irrigation: 'irrigation',
  drying: 'drying',
  medicament: 'medicament',
  'cone-fit': 'cone fit',
  exposure: 'exposure',
  capping: 'capping',
  flap: 'flap',
  resection: 'resection',
  'root-end-filling': 'root-end filling',
  suture: 'suture',
  obturation: 'obturation',
  'orifice-seal': 'orifice seal',
  temporary: 'temporary',
  core: 'core',
  'post-op': 'post-operative',
  recall: 'recall',
};

export const stageText = (stage: StageWord, word: string | null): string =>
  stage === 'other' ? (word ?? 'other') : STAGE_TEXT[stage];

export const VIEW_TEXT: Record<ViewWord, string> = {
  periapical: 'periapical radiograph',
  bitewing: 'bitewing radiograph',
  occlusal: 'occlusal radiograph',
  panoramic: 'panoramic radiograph',
  'cbct-slice': 'cone-beam slice',
  microscope: 'microscope',
  intraoral: 'intraoral photograph',
  extraoral: 'extraoral photograph',
  'surface-scan': 'surface scan',
};

export const TREATMENT_TEXT: Record<TreatmentKind, string> = {
  'root-canal-treatment': 'root canal treatment',
  retreatment: 'retreatment',
  'root-end-surgery': 'root-end surgery',
  'vital-pulp-therapy': 'vital pulp therapy',
  pulpectomy: 'pulpectomy',
  apexification: 'apexification',
  regenerative: 'regenerative treatment',
  repair: 'repair',
  trauma: 'treatment of an injury',
  emergency: 'emergency treatment',
  consultation: 'consultation',
};

export const STATE_TEXT: Record<VisitState, string> = {
  finished: 'finished',
  interim: 'interim, not finished',
  emergency: 'emergency, not finished',
  interrupted: 'interrupted, not finished',
  consultation: 'consultation',
};

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** "MB", "MB and D", "MB, MM and D". */
export function listed(words: readonly string[]): string {
  if (words.length <= 1) return words.join('');
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

const NUMBERS = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten'];
export const counted = (count: number): string => NUMBERS[count] ?? String(count);

/** A free text as part of a sentence: no full stop of its own, one space between words, none to break at a unit. */
export const clause = (text: string): string =>
  text
    .trim()
    .replace(/\s+/g, ' ')
    .replace(/[.;,\s]+$/, '')
    .replace(/(\d) (?=(?:mm|%|ml|days?|weeks?|months?|years?)(?![\p{L}\d]))/gu, `$1${NBSP}`);

/** Number and unit never part. */
export const withUnit = (value: number, unit: string, digits?: number): string =>
  `${digits === undefined ? String(value) : value.toFixed(digits)}${NBSP}${unit}`;
