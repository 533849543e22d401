import type { Practice } from '../../practice/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import { finishCase, isFinished, referrerSheets } from '../finish-case.js';
import type { StoredVisit } from '../on-file.js';
import type { ErrorReport, VisitReport } from '../report.js';
import { readCase } from '../standing-case.js';
import { type AbsentPicture, candidatesOf, type DropContext, ownPictures } from './candidates.js';
import { absentLine, sayAbsent } from './describe-pictures.js';
import { type Belonging, findCase } from './find-case.js';
import type { UncoveredPictures } from './make-pictures.js';
import type { Making, ToMake } from './making.js';
import { wishOf } from './search-pictures.js';
import { type Candidate, correctedSources, type Fate, sortPictures, wishFor } from './sort-pictures.js';
import { isCoveredIn, zonesFor } from './zones.js';

/** What one document of a drop asks for: an answer at once, or pictures to be made. */
export type PlannedDocument =
  | { kind: 'answered'; report: () => Promise<VisitReport> }
  | {
      kind: 'to-make';
      making: Making;
      belonging: Belonging;
      candidates: Candidate[];
      absent: AbsentPicture[];
      fates: Fate[];
      toMake: ToMake[];
    };

/** Finds the case and sorts the pictures; makes and writes nothing. */
export function planDocument(context: DropContext, at: number): PlannedDocument {
  const { drop, documents, onFile, options, practice, ports } = context;
  const { document, errors } = documents[at] as DropContext['documents'][number];
  const sha256s = new Set(drop.files.flatMap((file) => file.sha256 ?? []));
  const belonging = findCase(onFile, document, sha256s, ownPictures(context, at));
  const { visit: earlier } = belonging;
  const { candidates, absent } = candidatesOf(context, at, earlier);
  if (
    earlier &&
    equalsWhatIsOnFile(earlier, document, errors, candidates, absent) &&
    isShownAsWished(earlier, candidates, practice)
  ) {
    const report = () => duplicateReport(context, belonging.code as string, earlier, candidates);
    return { kind: 'answered', report };
  }
  const fates = sortPictures(candidates, (sha256) =>
    onFile.places
      .get(sha256)
      ?.find((place) => place.code === belonging.code && place.visit.id !== earlier?.id),
  );
  const waitingFor = options.waits && options.write ? waitsFor(context, absent, fates) : null;
  if (waitingFor !== null) {
    return { kind: 'answered', report: async () => waitingReport(context, errors, absent, waitingFor) };
  }
  const making = { practice, ports, write: options.write, earlier, answers: document.answers };
  const toMake = fates.filter((fate) => fate.kind === 'make');
  return { kind: 'to-make', making, belonging, candidates, absent, fates, toMake };
}

/** What must come before anything is made of a drop that is still being copied. */
function waitsFor(
  context: DropContext,
  absent: readonly AbsentPicture[],
  fates: readonly Fate[],
): string | null {
  if (absent.length > 0) return sayAbsent(absent);
  const unlisted = unlistedHere(context, fates);
  return unlisted.length > 0 ? sayUnlisted(unlisted) : null;
}

/** Equal bytes and an equal document: only what the sidecar says counts, not its comments or the order of its lines. */
function equalsWhatIsOnFile(
  visit: StoredVisit,
  document: VisitDocument,
  errors: readonly ErrorReport[],
  candidates: readonly Candidate[],
  absent: readonly AbsentPicture[],
): boolean {
  const onFile = new Set(visit.pictures.map((picture) => picture.sha256));
  const unreadCount = absent.length + candidates.filter(({ file }) => file.sha256 === null).length;
  return (
    visit.whole &&
    candidates.every(({ file }) => file.sha256 === null || onFile.has(file.sha256)) &&
    sayAlike(visit.document, document) &&
    tellAlike(visit.errors, errors) &&
    visit.unread.length === unreadCount
  );
}

/**
 * False when practice.yaml now says otherwise of a source that flips by itself or is covered in a fixed zone, when a
 * picture dates from before pictures were searched, or when it could not be made or searched: it must be made anew.
 */
function isShownAsWished(visit: StoredVisit, candidates: readonly Candidate[], practice: Practice): boolean {
  const corrected = correctedSources(practice);
  return candidates.every(({ file, facts, entry }) => {
    const picture = visit.pictures.find(({ sha256 }) => sha256 === file.sha256);
    if (picture?.status === 'failed' || picture?.reason?.code === 'not-searched') return false;
    if (!picture?.shown || !facts || !entry) return true;
    const { shown } = picture;
    return (
      shown.searched !== undefined &&
      wishFor(entry, facts, file.name, corrected).flip === shown.flipped &&
      isCoveredIn(shown, zonesFor(practice, facts, file.name))
    );
  });
}

/** Another mistake in place of the one before is news, even where neither entry counts. */
const tellAlike = (a: StoredVisit['errors'], b: readonly ErrorReport[]): boolean =>
  a.length === b.length &&
  a.every(({ field, sentence }, at) => field === b[at]?.field && sentence === b[at]?.sentence);

const sayAlike = (a: VisitDocument, b: VisitDocument): boolean => {
  const words = (one: VisitDocument): string =>
    JSON.stringify(one, (key, value) => (key === 'line' ? undefined : value));
  return words(a) === words(b);
};

async function duplicateReport(
  context: DropContext,
  code: string,
  visit: StoredVisit,
  candidates: readonly Candidate[],
): Promise<VisitReport> {
  const { practice, ports, onFile, options } = context;
  // A kill may have come between the filing and the sheet: what is missing is made now.
  const standing = readCase(onFile, code);
  const shows = standing.record.pictures.length > 0;
  const whole = !options.write || (await isFinished(practice, { ...visit, code }, shows));
  const finished = whole ? null : await finishCase(practice, ports, code, visit.id);
  return {
    visit: context.drop.name,
    case: code,
    status: 'duplicate',
    revision: visit.revision,
    pictures: candidates.map(({ file: { name, sha256 } }) => {
      const shown = visit.pictures.find((picture) => picture.sha256 === sha256)?.shown;
      const image = shown ? `cases/${code}/${shown.file}` : null;
      const of = image ?? visit.folder;
      return { source: name, sha256, status: 'duplicate', image, covered: 0, look: [], duplicateOf: of };
    }),
    findings: finished?.findings ?? standing.findings,
    errors: finished?.errors ?? [],
    sheets: finished?.sheets ?? (await referrerSheets(practice, code)),
  };
}

export function waitingReport(
  context: DropContext,
  errors: ErrorReport[],
  absent: AbsentPicture[],
  waitingFor: string,
): VisitReport {
  return {
    visit: context.drop.name,
    case: null,
    status: 'waiting',
    revision: 0,
    waitingFor,
    pictures: absent.map(absentLine),
    findings: [],
    errors,
    sheets: [],
  };
}

/**
 * Pictures in the folder that no line of the sidecar speaks of. A copy of a listed one needs no line, nor does one that
 * an earlier revision listed and that is on file only.
 */
function unlistedHere({ drop }: DropContext, fates: readonly Fate[]): string[] {
  const here = new Set(drop.files.map((file) => file.name));
  return fates.flatMap(({ kind, candidate: { file } }) =>
    kind === 'unlabelled' && here.has(file.name) ? [file.name] : [],
  );
}

/** Pictures that a copy under way would look like: cut short, changing, or listed and without a picture's bytes yet. */
export function stillArriving(
  fates: readonly Fate[],
  uncovered: UncoveredPictures,
  { practice }: Pick<Making, 'practice'>,
): string[] {
  return fates.flatMap((fate) => {
    const { file, entry } = fate.candidate;
    if (fate.kind === 'make') {
      const made = uncovered.get(wishOf(practice, fate).key)?.made;
      return made?.kind === 'held' && made.reason.code === 'damaged' ? [file.name] : [];
    }
    if (fate.kind !== 'held') return [];
    const { code } = fate.reason;
    const cutShort =
      code === 'damaged' || code === 'changing' || (code === 'unknown-format' && entry !== null);
    return cutShort ? [file.name] : [];
  });
}

const sayUnlisted = (names: readonly string[]): string => `a line in visit.yaml for: ${names.join(', ')}`;
