import type { CaseRecord, CourseRecord, PictureRecord } from '../../../../src/trade/case-record.js';
import type { CanalEntry } from '../../../../src/trade/visit-document.js';

/** Invented cases only. */
export const picture = (number: number, more: Partial<PictureRecord> = {}): PictureRecord => ({
  number,
  file: `images/${String(number).padStart(2, '0')}-${more.stage ?? 'pre-op'}.png`,
  course: 1,
  visit: 1,
  order: number,
  stage: 'pre-op',
  stageWord: null,
  band: 'before',
  view: 'microscope',
  plane: null,
  angle: null,
  teeth: [],
  canals: [],
  flipped: false,
  orientation: null,
  magnification: null,
  caption: null,
  widthPx: 1600,
  heightPx: 1200,
  covered: 0,
  look: [],
  scale: null,
  processing: [],
  ...more,
});

export const canal = (name: string, more: Partial<CanalEntry> = {}): CanalEntry => ({
  canal: name,
  length: 20.5,
  reference: 'MB cusp tip',
  size: 30,
  taper: 0.04,
  joins: null,
  dry: true,
  filled: 'gutta-percha and sealer',
  note: null,
  ...more,
});

export const course = (more: Partial<CourseRecord> = {}): CourseRecord => ({
  course: 1,
  kind: 'root-canal-treatment',
  diagnosis: { pulp: 'pulp necrosis', apex: 'asymptomatic apical periodontitis' },
  consent: { referral: true, teaching: false, publication: false },
  canals: [
    canal('MB'),
    canal('MM', { length: 20, size: 25, joins: { canal: 'MB', at: 4 } }),
    canal('ML'),
    canal('D', { size: 40 }),
  ],
  handoff: {
    restorer: 'the referring dentist',
    caries: 'removed',
    margins: 'sound',
    barrier: 'bonded',
    temporary: 'glass ionomer',
    chamber: null,
    advise: 'cuspal coverage',
    by: '4 weeks',
    next: null,
    due: null,
    mishaps: [],
    recall: 'we recall at 12 months',
  },
  visits: [
    { visit: 1, day: 0, year: 2026, state: 'interim', revision: 1 },
    { visit: 2, day: 14, year: 2026, state: 'finished', revision: 1 },
  ],
  ...more,
});

const calibrated = { mmPerPxX: 40 / 1600, mmPerPxY: 40 / 1600, source: 'receptor' };

export const ninePictures = (): PictureRecord[] => [
  picture(1, { view: 'periapical', angle: 'straight', scale: calibrated, caption: 'Distal caries' }),
  picture(2, { magnification: 4, caption: 'Old filling, open distal margin' }),
  picture(3, { stage: 'access', band: 'during', flipped: true }),
  picture(4, {
    stage: 'orifices',
    band: 'during',
    magnification: 10,
    flipped: true,
    orientation: { mesial: 'left', buccal: 'up' },
    caption: 'Middle mesial orifice between MB and ML',
  }),
  picture(5, {
    stage: 'working-length',
    band: 'during',
    view: 'periapical',
    angle: 'mesial',
    scale: calibrated,
  }),
  picture(6, {
    stage: 'cone-fit',
    band: 'during',
    view: 'periapical',
    visit: 2,
    scale: calibrated,
    covered: 1,
  }),
  picture(7, { stage: 'obturation', band: 'after', visit: 2, magnification: 10 }),
  picture(8, { stage: 'core', band: 'after', visit: 2 }),
  picture(9, {
    stage: 'post-op',
    band: 'after',
    view: 'periapical',
    visit: 2,
    scale: calibrated,
    processing: ['contrast adjusted over the whole image'],
  }),
];

export const record = (
  pictures: PictureRecord[] = ninePictures(),
  more: Partial<CourseRecord> = {},
): CaseRecord => ({
  schema: 1,
  case: 'K7QD2M',
  tooth: { fdi: 46 },
  courses: [course(more)],
  pictures,
});
