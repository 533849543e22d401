import type { Practice } from '../../practice/index.js';
import { readSidecar, type SidecarDocument } from '../../stages/label/index.js';
import { readOnFile } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { VisitReport } from '../report.js';
import type { Drop } from './drop.js';
import { guardDrop } from './guard-drop.js';
import { holdDrop, settleHolds } from './hold-drop.js';
import type { IntakeOptions } from './options.js';
import { recognise } from './recognise.js';
import { takeDocument } from './take-document.js';

/** Sidecar, recognition, guard, then a filing for each document. One report a document; one in all when held. */
export async function takeDrop(
  practice: Practice,
  drop: Drop,
  ports: Ports,
  options: IntakeOptions,
): Promise<VisitReport[]> {
  const { sidecar } = drop;
  if (sidecar.kind === 'none') return [await holdDrop(practice, drop, ports, sidecar.reason, [], options)];
  const read = readSidecar(sidecar.bytes, {
    file: sidecar.name,
    notation: practice.settings.notation,
  });
  if (read.kind === 'refused') {
    return [await holdDrop(practice, drop, ports, { code: 'sidecar-refused' }, read.errors, options)];
  }
  const onFile = await readOnFile(practice);
  const facts = await recognise(drop, onFile, ports);
  const reason = guardDrop(practice, drop, facts, read.documents, onFile);
  if (reason) return [await holdDrop(practice, drop, ports, reason, errorsOf(read.documents), options)];
  const reports: VisitReport[] = [];
  for (const [at] of read.documents.entries()) {
    // What the document before it filed must be on file for the next one: two teeth may share a new patient.
    const now = at === 0 ? onFile : await readOnFile(practice);
    const context = {
      practice,
      ports,
      options,
      drop,
      facts,
      sidecar: sidecar.bytes,
      documents: read.documents,
      onFile: now,
    };
    reports.push(await takeDocument(context, at));
  }
  if (options.write && reports.every((report) => report.status !== 'waiting')) {
    await settleHolds(practice, drop);
  }
  return reports;
}

const errorsOf = (documents: readonly SidecarDocument[]) => documents.flatMap((one) => one.errors);
