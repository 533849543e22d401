import {
  formatError,
  readSidecar,
  type SidecarDocument,
  type SidecarError,
} from '../../../src/stages/label/index.js';

type Notation = Parameters<typeof readSidecar>[1]['notation'];

/** Sound, without a name in it that could stand in a test by chance. Line 5 holds the first picture. */
export const SOUND = `patient: {chart: 00123, names: Rowan Testcase, born: 1984-06-02}
visit: {date: 2026-02-11, state: finished}
tooth: {fdi: 46}
images:
  - {file: a.jpg, stage: pre-op, view: periapical}
`;

/** The design's own example of a whole sidecar, with figures for its placeholders. */
export const WHOLE = `patient:
  chart: A-20417
  names: [Rowan Testcase]
  born: 1984-06-02
visit: {date: 2026-02-11, state: finished}
treatment: {kind: root-canal-treatment, course: 1}
tooth: {fdi: 46}
consent: {referral: true, teaching: false, publication: false}
diagnosis: {pulp: pulp necrosis, apex: asymptomatic apical periodontitis}
canals:
  - {canal: MB, length: 20.5, reference: MB cusp tip, size: 30, taper: 0.04, dry: true, filled: gutta-percha and sealer}
  - {canal: MM, length: 20.0, reference: MB cusp tip, size: 25, taper: 0.04, joins: {canal: MB, at: 4}, dry: true, filled: gutta-percha and sealer}
images:
  - {file: IMG_0412.JPG, stage: pre-op, view: periapical, angle: straight, teeth: [{fdi: 46}, {fdi: 47}]}
  - {file: IMG_0418.JPG, stage: orifices, view: microscope, canals: [MB, MM, ML, D], mirror: true, caption: Middle mesial orifice between MB and ML}
  - file: film7.tif
    stage: post-op
    view: periapical
    cover: [{box: [10, 20, 300, 40], by: AB, why: name}]
    keep:  [{box: [1, 2, 30, 40], by: AB, why: side marker}]
    scale: {from: [100, 100], to: [100, 290], mm: 19}
    paths: [{canal: MB, points: [[10, 10], [12, 200]], apex: [12, 210], fillingEnd: [12, 205]}]
    lesion: [[1, 1], [5, 1], [3, 6]]
    landmarks: {a: [1, 1], b: [9, 9]}
    frame: 1
align: [{before: film1.tif, after: film7.tif, confirmed: AB}]
answers: [{code: shot-missing, by: AB, why: "not taken"}]
handoff: {restorer: referring dentist, caries: removed, margins: sound, barrier: bonded, temporary: glass ionomer,
          advise: cuspal coverage, by: 4 weeks}
`;

export const read = (text: string | Uint8Array, notation: Notation = null) =>
  readSidecar(typeof text === 'string' ? new TextEncoder().encode(text) : text, {
    file: 'visit.yaml',
    notation,
  });

export const errorsOf = (text: string | Uint8Array, notation: Notation = null): SidecarError[] => {
  const result = read(text, notation);
  return result.kind === 'refused' ? result.errors : result.documents.flatMap((one) => one.errors);
};

export const said = (text: string | Uint8Array, notation: Notation = null): string[] =>
  errorsOf(text, notation).map(formatError);

/** The documents of a text that must be readable. */
export const documentsOf = (text: string | Uint8Array, notation: Notation = null): SidecarDocument[] => {
  const result = read(text, notation);
  if (result.kind === 'refused') throw new Error(result.errors.map(formatError).join('\n'));
  return result.documents;
};

export const firstOf = (text: string | Uint8Array, notation: Notation = null): SidecarDocument =>
  documentsOf(text, notation)[0] as SidecarDocument;
