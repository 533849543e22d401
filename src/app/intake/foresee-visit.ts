import { buildCase } from '../../stages/record/index.js';
import type { Finding } from '../../trade/case-record.js';
import { findingsOf } from '../../trade/findings/index.js';
import { visitsOfCase } from '../on-file.js';
import type { VisitReport } from '../report.js';
import type { DropContext } from './candidates.js';
import { reportPictures, sayAbsent } from './describe-pictures.js';
import { filedPictures, nextNumber } from './filed-pictures.js';
import type { ReadyVisit } from './ready-visit.js';

/** What filing would say, with nothing written: `check` prints it. */
export function foreseeVisit(context: DropContext, ready: ReadyVisit): VisitReport {
  const { belonging, absent } = ready;
  const waits = context.options.waits && absent.length > 0;
  return {
    visit: ready.folder,
    case: belonging.code,
    status: waits ? 'waiting' : belonging.visit ? 'revised' : 'done',
    revision: (belonging.visit?.revision ?? 0) + 1,
    ...(waits ? { waitingFor: sayAbsent(absent) } : {}),
    pictures: reportPictures(ready, belonging.code, null),
    findings: foreseeFindings(context, ready),
    errors: ready.errors,
    sheets: [],
  };
}

/** Findings of the case as it would stand with this visit. */
function foreseeFindings({ onFile }: DropContext, ready: ReadyVisit): Finding[] {
  const { belonging, document } = ready;
  const others = belonging.code === null ? [] : visitsOfCase(onFile, belonging.code);
  const visit = {
    id: '',
    revision: 0,
    document,
    pictures: filedPictures(ready, nextNumber(onFile, belonging.code)),
  };
  const visits = [...others.filter((one) => one.id !== belonging.visit?.id), visit];
  const record = buildCase('', document.tooth, visits);
  const answered = visits.flatMap((one) => one.document.answers.map((answer) => answer.code));
  return findingsOf(record, { patientKnown: document.patient.chart !== null, answered });
}
