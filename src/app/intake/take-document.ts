import { finishCase } from '../finish-case.js';
import type { VisitReport } from '../report.js';
import type { DropContext } from './candidates.js';
import { reportPictures } from './describe-pictures.js';
import { removeDraftSheet } from './draft-sheet.js';
import { fileVisit } from './file-visit.js';
import { foreseeVisit } from './foresee-visit.js';
import { leftPictures } from './left-pictures.js';
import { makePictures } from './make-pictures.js';
import { planDocument, stillArriving, waitingReport } from './plan-document.js';
import type { PreparedDrop } from './prepare-drop.js';
import type { ReadyVisit } from './ready-visit.js';

/** Takes in what one document of the sidecar says, one tooth's visit, with the drop's pictures made and searched. */
export async function takeDocument(
  context: DropContext,
  at: number,
  prepared: PreparedDrop,
): Promise<VisitReport> {
  const { drop, documents, options } = context;
  const { document, errors } = documents[at] as DropContext['documents'][number];
  // Planned anew: what an earlier document of this drop filed is on file by now.
  const plan = planDocument(context, at);
  if (plan.kind === 'answered') return plan.report();
  const { belonging, candidates, absent, fates, toMake, making } = plan;
  const arriving = stillArriving(fates, prepared.uncovered, making);
  if (options.waits && options.write && arriving.length > 0) {
    const names = arriving.join(', ');
    return waitingReport(context, errors, absent, `pictures that cannot be opened yet: ${names}`);
  }
  const made = await makePictures(making, toMake, prepared.uncovered, prepared.searches);
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
  return options.write ? file(context, at, ready) : foreseeVisit(context, ready);
}

async function file(context: DropContext, at: number, ready: ReadyVisit): Promise<VisitReport> {
  const { practice, ports, onFile } = context;
  const filed = await fileVisit(practice, ports, onFile, ready);
  const finished = await finishCase(practice, ports, filed.code, filed.visit.id);
  await removeDraftSheet(context, at);
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
