import type { ToothRef } from '../tooth-ref.js';
import type { CanalEntry, HandOff, ImageEntry, VisitDocument } from '../visit-document.js';
import type { Written, WrittenCanal, WrittenImage } from './sidecar-schema.js';

/** A document without one of its required parts; the reader adds pictures and canals entry by entry. */
export type WrittenParts = Omit<Partial<Written>, 'tooth' | 'images' | 'canals'> & { tooth: ToothRef };

/** Every key a sidecar left out becomes an explicit "not recorded". Nothing is filled in that nobody wrote. */
export function toVisitDocument(
  parts: WrittenParts,
  canals: CanalEntry[],
  images: ImageEntry[],
): VisitDocument {
  const { patient, visit, treatment, consent, diagnosis } = parts;
  return {
    patient: {
      chart: patient?.chart ?? null,
      names: patient?.names ?? [],
      born: patient?.born ?? null,
    },
    visit: { date: visit?.date ?? null, state: visit?.state ?? null },
    treatment: { kind: treatment?.kind ?? null, course: treatment?.course ?? 1 },
    tooth: parts.tooth,
    consent: {
      referral: consent?.referral ?? null,
      teaching: consent?.teaching ?? null,
      publication: consent?.publication ?? null,
    },
    diagnosis: { pulp: diagnosis?.pulp ?? null, apex: diagnosis?.apex ?? null },
    canals,
    images,
    align: (parts.align ?? []).map((pair) => ({ ...pair, confirmed: pair.confirmed ?? null })),
    answers: (parts.answers ?? []).map(({ code, file, by, why, audience }) => ({
      code,
      file: file?.normalize('NFC') ?? null,
      by: by ?? null,
      why: why ?? null,
      audience: audience ?? [],
    })),
    handoff: toHandOff(parts.handoff),
  };
}

const toHandOff = (written: Written['handoff']): HandOff => ({
  restorer: written?.restorer ?? null,
  caries: written?.caries ?? null,
  margins: written?.margins ?? null,
  barrier: written?.barrier ?? null,
  temporary: written?.temporary ?? null,
  chamber: written?.chamber ?? null,
  advise: written?.advise ?? null,
  by: written?.by ?? null,
  next: written?.next ?? null,
  due: written?.due ?? null,
  mishaps: written?.mishaps ?? [],
  recall: written?.recall ?? null,
});

/** Short labels are trade letters and are read alike in any case: "mb2" and "MB 2" are MB2; words stay. */
export const canalName = (label: string): string => {
  const close = label.replace(/\s+(?=\d$)/, '');
  return /^[a-z]{1,2}\d?$/i.test(close) ? close.toUpperCase() : label;
};

export const toCanalEntry = (written: WrittenCanal): CanalEntry => ({
  canal: canalName(written.canal),
  length: written.length ?? null,
  reference: written.reference ?? null,
  size: written.size ?? null,
  taper: written.taper ?? null,
  joins: written.joins ? { canal: canalName(written.joins.canal), at: written.joins.at ?? null } : null,
  dry: written.dry ?? null,
  filled: written.filled ?? null,
  note: written.note ?? null,
});

type WrittenBoxed = NonNullable<WrittenImage['cover']>[number];

const toBoxed = ({ box, by, why }: WrittenBoxed): ImageEntry['cover'][number] => ({
  box,
  by: by ?? null,
  why: why ?? null,
});

const toPath = (path: NonNullable<WrittenImage['paths']>[number]): ImageEntry['paths'][number] => ({
  canal: canalName(path.canal),
  points: path.points,
  apex: path.apex ?? null,
  fillingEnd: path.fillingEnd ?? null,
});

/** @param line 1-based line of the entry; @param tooth shown when the entry names none */
export function toImageEntry(written: WrittenImage, line: number | null, tooth: ToothRef): ImageEntry {
  const { word, band, orientation, teeth } = written;
  return {
    file: written.file.normalize('NFC'),
    line,
    stage: written.stage,
    other: word !== undefined && band !== undefined ? { word, band } : null,
    view: written.view,
    plane: written.plane ?? null,
    angle: written.angle ?? null,
    teeth: teeth === undefined || teeth.length === 0 ? [tooth] : teeth,
    canals: (written.canals ?? []).map(canalName),
    mirror: written.mirror ?? false,
    orientation: orientation
      ? { mesial: orientation.mesial ?? null, buccal: orientation.buccal ?? null }
      : null,
    magnification: written.magnification ?? null,
    caption: written.caption ?? null,
    cover: (written.cover ?? []).map(toBoxed),
    keep: (written.keep ?? []).map(toBoxed),
    scale: written.scale ?? null,
    paths: (written.paths ?? []).map(toPath),
    lesion: written.lesion ?? null,
    landmarks: written.landmarks ?? {},
    frame: written.frame ?? null,
  };
}
