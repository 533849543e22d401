import type { PatientEntry, Practice } from '../../practice/index.js';
import { readSidecar, type SidecarDocument } from '../../stages/label/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import { type OnFile, readOnFile } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { VisitReport } from '../report.js';
import { removeDraftSheet } from './draft-sheet.js';
import type { Drop } from './drop.js';
import { findCase } from './find-case.js';
import { guardDrop, personKnown } from './guard-drop.js';
import { holdDrop, settleHolds } from './hold-drop.js';
import type { IntakeOptions } from './options.js';
import { prepareDrop } from './prepare-drop.js';
import { recognise } from './recognise.js';
import { refusalOf } from './refuse-drop.js';
import { takeDocument } from './take-document.js';

/** Sidecar, recognition, guard, then a filing for each document. One report a document; one in all when held. */
export async function takeDrop(
  practice: Practice,
  drop: Drop,
  ports: Ports,
  options: IntakeOptions,
): Promise<VisitReport[]> {
  const { sidecar } = drop;
  const refusal = refusalOf(practice, drop);
  if (refusal) return [await holdDrop(practice, drop, ports, refusal, [], options)];
  if (sidecar.kind === 'none') return [await holdDrop(practice, drop, ports, sidecar.reason, [], options)];
  const how = { file: sidecar.name, notation: practice.settings.notation };
  const alone = readSidecar(sidecar.bytes, how);
  const onFile = await readOnFile(practice);
  const known = alone.kind === 'read' ? personOnFile(onFile, alone.documents, drop) : null;
  const read = known ? readSidecar(sidecar.bytes, { ...how, onFile: known }) : alone;
  if (read.kind === 'refused') {
    return [await holdDrop(practice, drop, ports, { code: 'sidecar-refused' }, read.errors, options)];
  }
  const facts = await recognise(drop, onFile, ports);
  const reason = guardDrop(practice, drop, facts, read.documents, onFile);
  const documents = read.documents;
  const holding = { ...options, cases: casesOf(onFile, documents, drop) };
  if (reason) return [await holdDrop(practice, drop, ports, reason, errorsOf(documents), holding)];
  const person = personKnown(documents[0]?.document as VisitDocument, known);
  const context = {
    practice,
    ports,
    options,
    drop,
    facts,
    sidecar: sidecar.bytes,
    documents,
    onFile,
    person,
  };
  const prepared = await prepareDrop(context);
  if (prepared.reason) {
    if (options.write) for (const at of documents.keys()) await removeDraftSheet(context, at);
    return [await holdDrop(practice, drop, ports, prepared.reason, errorsOf(documents), holding)];
  }
  const reports: VisitReport[] = [];
  for (const at of documents.keys()) {
    // What the document before it filed must be on file for the next one: two teeth may share a new patient.
    const now = at === 0 ? onFile : await readOnFile(practice);
    reports.push(await takeDocument({ ...context, onFile: now }, at, prepared));
  }
  if (options.write && reports.every((report) => report.status !== 'waiting')) {
    await settleHolds(practice, drop);
  }
  return reports;
}

/** The patient as the practice knows them, who may have more names than this sidecar says; null when they are new. */
function personOnFile(
  onFile: OnFile,
  documents: readonly SidecarDocument[],
  drop: Drop,
): PatientEntry | null {
  const document = documents[0]?.document;
  const sha256s = new Set(drop.files.flatMap((file) => file.sha256 ?? []));
  return document ? findCase(onFile, document, sha256s).patient : null;
}

/** Cases on file that the documents speak of: while the drop is held, `share` refuses them. */
function casesOf(onFile: OnFile, documents: readonly SidecarDocument[], drop: Drop): string[] {
  const sha256s = new Set(drop.files.flatMap((file) => file.sha256 ?? []));
  const codes = documents.flatMap(({ document }) => findCase(onFile, document, sha256s).code ?? []);
  return [...new Set(codes)];
}

const errorsOf = (documents: readonly SidecarDocument[]) => documents.flatMap((one) => one.errors);
