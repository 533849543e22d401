/** The part of a treatment a picture belongs to. */
export type Band = 'before' | 'during' | 'after';

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
