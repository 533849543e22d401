/** The part of a treatment a picture belongs to. */
export type Band = 'before' | 'during' | 'after';

export const BANDS: readonly Band[] = ['before', 'during', 'after'];

/** What a picture shows, in trade words, by band and in the order they usually happen. */
export const STAGES = {
  before: ['pre-op', 'tests'],
  during: [
    'isolation',
    'access',
    'disassembly',
    'orifices',
    'negotiation',
    'working-length',
    'shaping',
    'irrigation',
    'drying',
    'medicament',
    'cone-fit',
    'exposure',
    'capping',
    'flap',
    'resection',
    'root-end-filling',
    'suture',
  ],
  after: ['obturation', 'orifice-seal', 'temporary', 'core', 'post-op', 'recall'],
} as const;

export type StageWord = (typeof STAGES)[Band][number] | 'other';

/** Every stage word in the usual order; `other` last. */
export const STAGE_WORDS: readonly StageWord[] = [
  ...STAGES.before,
  ...STAGES.during,
  ...STAGES.after,
  'other',
];

/** The band a stage word belongs to; `other` has none of its own, the sidecar says it. */
export function bandOf(stage: Exclude<StageWord, 'other'>): Band {
  return BANDS.find((band) => (STAGES[band] as readonly StageWord[]).includes(stage)) as Band;
}

/** Place of a stage in the usual order, 0 first. Only for suggesting; a sheet keeps the order that was recorded. */
export const stageOrder = (stage: StageWord): number => STAGE_WORDS.indexOf(stage);

const TITLES: Partial<Record<StageWord, string>> = {
  'pre-op': 'Before treatment',
  tests: 'Clinical tests',
  isolation: 'Isolation under the dam',
  access: 'Access cavity',
  disassembly: 'Removal of the old restoration or filling',
  orifices: 'Canal orifices',
  negotiation: 'Reaching the canals',
  'working-length': 'Working length',
  medicament: 'Medicament between visits',
  'cone-fit': 'Cone fit',
  exposure: 'Pulp exposure',
  capping: 'Pulp capping',
  resection: 'Root-end resection',
  'root-end-filling': 'Root-end filling',
  suture: 'Sutures',
  obturation: 'Canal filling',
  'orifice-seal': 'Seal over the orifices',
  temporary: 'Temporary filling',
  core: 'Core build-up',
  'post-op': 'After treatment',
};

/** Words for a stage as a sheet prints them; `word` is the sidecar's own word for stage `other`. */
export function stageTitle(stage: StageWord, word: string | null = null): string {
  const text = stage === 'other' ? (word ?? 'other') : (TITLES[stage] ?? stage.replaceAll('-', ' '));
  return text.charAt(0).toUpperCase() + text.slice(1);
}

const BAND_TITLES: Record<Band, string> = { before: 'Before', during: 'During', after: 'After' };

export const bandTitle = (band: Band): string => BAND_TITLES[band];
