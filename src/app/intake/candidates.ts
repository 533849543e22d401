import { originalPath, type Practice } from '../../practice/index.js';
import { matchPictures, type SidecarDocument } from '../../stages/label/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import type { OnFile, StoredVisit } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { Drop, DropFile } from './drop.js';
import type { FactsOfDrop } from './recognise.js';
import type { Candidate } from './sort-pictures.js';

/** Everything one document's filing needs to know of its drop. */
export interface DropContext {
  practice: Practice;
  ports: Ports;
  options: { write: boolean; waits: boolean };
  drop: Drop;
  facts: FactsOfDrop;
  /** Bytes of visit.yaml, to be kept as they came. */
  sidecar: Uint8Array;
  documents: readonly SidecarDocument[];
  onFile: OnFile;
  /** The patient as the sidecar and the practice know them. */
  person: VisitDocument['patient'];
}

export interface AbsentPicture {
  file: string;
  line: number | null;
}

/**
 * The pictures that are one document's concern: those it lists, in its order, then (for the first document only)
 * those that none lists. A listed picture that is absent from the folder but on file in this very visit counts as
 * there, so that a corrected sidecar can be dropped alone.
 */
export function candidatesOf(
  context: DropContext,
  at: number,
  earlier: StoredVisit | null,
): { candidates: Candidate[]; absent: AbsentPicture[] } {
  const files = [...context.drop.files, ...onFileOnly(context, earlier)];
  const match = matchPictures(
    context.documents,
    files.map((file) => file.name),
  );
  const own = match.documents[at] as (typeof match.documents)[number];
  const colliding = new Map(match.collisions.flatMap((names) => names.map((name) => [name, names])));
  const order = new Map(context.documents[at]?.document.images.map((image, place) => [image, place]));
  const listed: Candidate[] = [];
  const rest: Candidate[] = [];
  for (const file of files) {
    const names = colliding.get(file.name);
    const entry = own.labels.get(file.name) ?? null;
    const faulty = own.held.get(file.name) ?? null;
    const facts = file.sha256 === null ? null : (factsOf(context, earlier, file.sha256) ?? null);
    const reason = names ? ({ code: 'names-collide', names } as const) : file.reason;
    const candidate: Candidate = { file: { ...file, reason }, facts, entry, faulty };
    if (entry) listed.push(candidate);
    else if (faulty || (at === 0 && isNobodys(match, file.name))) rest.push(candidate);
  }
  const place = (candidate: Candidate): number => order.get(candidate.entry as never) ?? 0;
  return { candidates: [...listed.sort((a, b) => place(a) - place(b)), ...rest], absent: own.absent };
}

/** SHA-256 of the drop's pictures that this document lists, or that none does. */
export function ownPictures({ drop, documents }: DropContext, at: number): Set<string> {
  const match = matchPictures(
    documents,
    drop.files.map((file) => file.name),
  );
  const isOthers = (name: string): boolean =>
    match.documents.some((one, place) => place !== at && (one.labels.has(name) || one.held.has(name)));
  const isMine = (name: string): boolean =>
    match.documents[at]?.labels.has(name) || match.documents[at]?.held.has(name) || !isOthers(name);
  return new Set(drop.files.flatMap((file) => (file.sha256 && isMine(file.name) ? [file.sha256] : [])));
}

const isNobodys = (match: ReturnType<typeof matchPictures>, name: string): boolean =>
  match.documents.every((one) => !one.labels.has(name) && !one.held.has(name));

const factsOf = (context: DropContext, earlier: StoredVisit | null, sha256: string) =>
  context.facts.get(sha256) ?? earlier?.pictures.find((picture) => picture.sha256 === sha256)?.facts;

/** Pictures of the visit on file whose names the drop does not have. */
function onFileOnly(context: DropContext, earlier: StoredVisit | null): DropFile[] {
  const names = new Set(context.drop.files.map((file) => file.name));
  const bytes = new Set(context.drop.files.map((file) => file.sha256));
  return (earlier?.pictures ?? [])
    .filter((picture) => picture.reason?.code !== 'replaced')
    .filter((picture) => !names.has(picture.source) && !bytes.has(picture.sha256))
    .map((picture) => ({
      name: picture.source,
      sha256: picture.sha256,
      format: picture.facts?.format ?? null,
      extension: picture.extension,
      path: originalPath(context.practice, picture.sha256, picture.extension),
      reason: picture.facts ? null : picture.reason,
    }));
}
