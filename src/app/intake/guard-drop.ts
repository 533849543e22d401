import type { Reason } from '../../core/reasons.js';
import type { PatientEntry, Practice } from '../../practice/index.js';
import { guard } from '../../stages/guard/index.js';
import type { SidecarDocument } from '../../stages/label/index.js';
import type { VisitDocument } from '../../trade/visit-document.js';
import type { OnFile } from '../on-file.js';
import type { Drop } from './drop.js';
import { chartClash, filedUnderAnother, findCase } from './find-case.js';
import type { FactsOfDrop } from './recognise.js';
import { isFrom } from './sort-pictures.js';

/**
 * Is this the right patient? Asked once for the whole folder, before anything is made of it: all documents of a
 * sidecar share their patient.
 */
export function guardDrop(
  practice: Practice,
  drop: Drop,
  facts: FactsOfDrop,
  documents: readonly SidecarDocument[],
  onFile: OnFile,
): Reason | null {
  const document = documents[0]?.document;
  if (!document) return null;
  const answers = documents.flatMap((one) => one.document.answers);
  const known = drop.files.flatMap((file) =>
    file.sha256 === null ? [] : [{ name: file.name, sha256: file.sha256 }],
  );
  // No answer settles this: it would file one person's visit under another. Both names in the sidecar do, if they are one's.
  const clash = chartClash(onFile, document);
  if (clash) return clash;
  const { patient } = findCase(onFile, document, new Set(known.map(({ sha256 }) => sha256)));
  const pictures = drop.files.flatMap((file) => {
    const seen = file.sha256 === null ? undefined : facts.get(file.sha256);
    return seen ? [{ name: file.name, facts: seen }] : [];
  });
  const offsetsSeconds: Record<string, number> = {};
  for (const { name, facts: seen } of pictures) {
    const source = practice.settings.sources.find((one) => isFrom(one.source, seen, name));
    if (source) offsetsSeconds[name] = source.offset;
  }
  return guard({
    patient: personKnown(document, patient),
    visitDate: document.visit.date,
    pictures,
    filedUnderAnother: filedUnderAnother(onFile, patient, known),
    offsetsSeconds,
    answers,
  });
}

/** The patient with every name on file beside those of this sidecar. */
export function personKnown(document: VisitDocument, patient: PatientEntry | null): VisitDocument['patient'] {
  return {
    ...document.patient,
    names: [...new Set([...document.patient.names, ...(patient?.names ?? [])])],
    born: document.patient.born ?? patient?.born ?? null,
  };
}
