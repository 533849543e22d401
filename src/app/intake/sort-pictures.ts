import type { PictureFacts } from '../../core/picture-facts.js';
import type { Reason } from '../../core/reasons.js';
import type { Practice } from '../../practice/index.js';
import { isRadiograph } from '../../trade/views.js';
import type { ImageEntry } from '../../trade/visit-document.js';
import type { Place, StoredVisit } from '../on-file.js';
import type { DropFile } from './drop.js';

/** One picture of a drop with all that decides what becomes of it. */
export interface Candidate {
  file: DropFile;
  facts: PictureFacts | null;
  /** The sidecar's entry; null when no document lists it or its entry is held. */
  entry: ImageEntry | null;
  /** Fields of its entry that have a mistake. */
  faulty: string[] | null;
}

export type Fate =
  | { kind: 'make'; candidate: Candidate; entry: ImageEntry; facts: PictureFacts }
  | { kind: 'held'; candidate: Candidate; reason: Reason }
  | { kind: 'duplicate'; candidate: Candidate; of: string }
  | { kind: 'unlabelled'; candidate: Candidate };

/**
 * Decides for every picture of one document: to be made, held, a duplicate or unlabelled.
 * Equal bytes are a duplicate; alike pictures of one burst are not.
 * @param placesInCase where the same bytes stand in other visits of this case
 */
export function sortPictures(
  candidates: readonly Candidate[],
  placesInCase: (sha256: string) => Place | undefined,
): Fate[] {
  const firstOf = new Map<string, Candidate>();
  // A listed picture comes before its unlisted copy, whatever their names.
  for (const candidate of [...candidates].sort((a, b) => rank(a) - rank(b))) {
    const { sha256 } = candidate.file;
    if (sha256 !== null && !firstOf.has(sha256)) firstOf.set(sha256, candidate);
  }
  return candidates.map((candidate) => {
    const { file, facts, entry, faulty } = candidate;
    const twin = file.sha256 === null ? undefined : firstOf.get(file.sha256);
    if (twin && twin !== candidate) return { kind: 'duplicate', candidate, of: twin.file.name };
    if (file.reason) return { kind: 'held', candidate, reason: file.reason };
    if (faulty) return { kind: 'held', candidate, reason: { code: 'entry-faulty', fields: faulty } };
    const place = file.sha256 === null ? undefined : placesInCase(file.sha256);
    if (place) return { kind: 'duplicate', candidate, of: nameOfPlace(place) };
    if (!entry) return { kind: 'unlabelled', candidate };
    if (!facts) return { kind: 'held', candidate, reason: { code: 'unknown-format' } };
    const unframed = frameReason(facts, entry);
    if (unframed) return { kind: 'held', candidate, reason: unframed };
    return { kind: 'make', candidate, entry, facts };
  });
}

/** Of an object with several frames only the one a person named is opened: a whole volume can show a face. */
function frameReason({ frames = 1 }: PictureFacts, { frame }: ImageEntry): Reason | null {
  if (frames === 1) return null;
  if (frame === null) return { code: 'several-frames', frames };
  return frame > frames ? { code: 'frame-absent', frame, frames } : null;
}

const rank = (candidate: Candidate): number => (candidate.entry ? 0 : candidate.faulty ? 1 : 2);

function nameOfPlace({ code, visit, picture }: Place): string {
  if (picture.shown) return `cases/${code}/${picture.shown.file}`;
  return `${picture.source} of the visit ${visit.document.visit.date ?? visit.folder}`;
}

/** How the display picture of an entry must be made. */
export interface Wish {
  radiograph: boolean;
  flip: boolean;
  /** Of an object with several frames, from 1; else 1. */
  frame: number;
}

/** One way of showing one original; names files in private/tmp, so no more than letters, digits and hyphens. */
export const wishKey = (sha256: string, { radiograph, flip, frame }: Wish): string =>
  `${sha256}-${radiograph ? 'r' : 'c'}${flip ? 'f' : 'd'}${frame}`;

/**
 * A mirror view is flipped exactly once: not at all when the camera has done it already.
 * @param corrected sources that practice.yaml declares as flipping by themselves
 */
export function wishFor(
  entry: ImageEntry,
  facts: PictureFacts,
  name: string,
  corrected: readonly string[],
): Wish {
  const byCamera = corrected.some((source) => isFrom(source, facts, name));
  const frame = (facts.frames ?? 1) > 1 ? (entry.frame ?? 1) : 1;
  return { radiograph: isRadiograph(entry.view), flip: entry.mirror && !byCamera, frame };
}

/** Sources that practice.yaml declares as flipping mirror views by themselves. */
export const correctedSources = ({ settings }: Practice): string[] =>
  settings.sources.filter((one) => one.corrected).map((one) => one.source);

/** `source` in practice.yaml is maker and model, or a sub-folder of the visit. */
export const isFrom = (source: string, facts: PictureFacts | null, name: string): boolean =>
  facts?.source?.toLowerCase() === source.toLowerCase() ||
  name.toLowerCase().startsWith(`${source.toLowerCase()}/`);

/** What an earlier revision made of the same bytes under the same wish, to be kept instead of made again. */
export function alreadyMade(visit: StoredVisit | null, sha256: string, wish: Wish) {
  const earlier = visit?.pictures.find((picture) => picture.sha256 === sha256 && picture.shown);
  if (!earlier?.shown) return null;
  const { radiograph, flipped, frame = 1 } = earlier.shown;
  const same = radiograph === wish.radiograph && flipped === wish.flip && frame === wish.frame;
  return same ? earlier : null;
}
