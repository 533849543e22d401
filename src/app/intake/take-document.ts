import type { Practice } from '../../practice/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import { finishCase, isFinished, referrerSheets } from '../finish-case.js';
import type { StoredVisit } from '../on-file.js';
import type { ErrorReport, VisitReport } from '../report.js';
import { readCase } from '../standing-case.js';
import { type AbsentPicture, candidatesOf, type DropContext, ownPictures } from './candidates.js';
import { absentLine, reportPictures, sayAbsent } from './describe-pictures.js';
import { fileVisit } from './file-visit.js';
import { findCase } from './find-case.js';
import { foreseeVisit } from './foresee-visit.js';
import { leftPictures } from './left-pictures.js';
import { type MadePicture, makePictures } from './make-pictures.js';
import type { ReadyVisit } from './ready-visit.js';
import { type Candidate, correctedSources, type Fate, sortPictures, wishFor } from './sort-pictures.js';

/** Takes in what one document of the sidecar says: one tooth's visit. */
export async function takeDocument(context: DropContext, at: number): Promise<VisitReport> {
  const { drop, documents, onFile, options } = context;
  const { document, errors } = documents[at] as DropContext['documents'][number];
  const sha256s = new Set(drop.files.flatMap((file) => file.sha256 ?? []));
  const belonging = findCase(onFile, document, sha256s, ownPictures(context, at));
  const { candidates, absent } = candidatesOf(context, at, belonging.visit);
  if (
    belonging.visit &&
    equalsWhatIsOnFile(belonging.visit, document, errors, candidates, absent) &&
    isShownAsWished(belonging.visit, candidates, context.practice)
  ) {
    return duplicateReport(context, belonging.code as string, belonging.visit, candidates);
  }
  const fates = sortPictures(candidates, (sha256) =>
    onFile.places
      .get(sha256)
      ?.find((place) => place.code === belonging.code && place.visit.id !== belonging.visit?.id),
  );
  if (options.waits && options.write) {
    const unlisted = unlistedHere(context, fates);
    if (absent.length > 0) return waitingReport(context, errors, absent, sayAbsent(absent));
    if (unlisted.length > 0) return waitingReport(context, errors, absent, sayUnlisted(unlisted));
  }
  const made = await makePictures(
    {
      practice: context.practice,
      ports: context.ports,
      write: options.write,
      earlier: belonging.visit,
    },
    fates.filter((fate) => fate.kind === 'make'),
  );
  const arriving = stillArriving(fates, made);
  if (options.waits && options.write && arriving.length > 0) {
    const names = arriving.join(', ');
    return waitingReport(context, errors, absent, `pictures that cannot be opened yet: ${names}`);
  }
  const ready: ReadyVisit = {
    belonging,
    document,
    errors,
    folder: drop.name,
    sidecar: context.sidecar,
    fates,
    absent,
    made,
    left: leftPictures(context, belonging.visit, candidates),
  };
  return options.write ? file(context, ready) : foreseeVisit(context, ready);
}

async function file(context: DropContext, ready: ReadyVisit): Promise<VisitReport> {
  const { practice, ports, onFile } = context;
  const filed = await fileVisit(practice, ports, onFile, ready);
  const finished = await finishCase(practice, ports, filed.code, filed.visit.id);
  return {
    visit: ready.folder,
    case: filed.code,
    status: ready.belonging.visit ? 'revised' : 'done',
    revision: filed.visit.revision,
    pictures: reportPictures(ready, filed.code, filed.visit),
    findings: finished.findings,
    errors: [...ready.errors, ...finished.errors],
    sheets: finished.sheets,
  };
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

/** False when practice.yaml now says otherwise of a camera that flips by itself: its pictures must be made anew. */
function isShownAsWished(visit: StoredVisit, candidates: readonly Candidate[], practice: Practice): boolean {
  const corrected = correctedSources(practice);
  return candidates.every(({ file, facts, entry }) => {
    const shown = visit.pictures.find((picture) => picture.sha256 === file.sha256)?.shown;
    if (!shown || !facts || !entry) return true;
    return wishFor(entry, facts, file.name, corrected).flip === shown.flipped;
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

function waitingReport(
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
function stillArriving(fates: readonly Fate[], made: readonly MadePicture[]): string[] {
  const unseen = fates.filter(
    (fate) =>
      fate.kind === 'held' &&
      (fate.reason.code === 'damaged' ||
        fate.reason.code === 'changing' ||
        (fate.reason.code === 'unknown-format' && fate.candidate.entry !== null)),
  );
  const unmade = made.filter((one) => one.kind === 'held' && one.reason.code === 'damaged');
  return [...unseen, ...unmade.map((one) => one.fate)].map((fate) => fate.candidate.file.name);
}

const sayUnlisted = (names: readonly string[]): string => `a line in visit.yaml for: ${names.join(', ')}`;
