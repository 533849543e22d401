import { join } from 'node:path';
import { type Practice, writePaper } from '../../practice/index.js';
import { drawCoverSlip } from '../../stages/sheet/index.js';
import type { CaseRecord } from '../../trade/case-record.js';
import { caseOf, type OnFile, visitsOfCase } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';

/**
 * The slip that says whose sheet a share code is: private/records/<SHARE CODE>-cover-slip.pdf. It goes to the referrer
 * by another way than the sheet.
 */
export async function writeCoverSlip(
  practice: Practice,
  ports: Ports,
  onFile: OnFile,
  record: CaseRecord,
  shareCode: string,
): Promise<void> {
  const owner = caseOf(onFile, record.case);
  const visits = visitsOfCase(onFile, record.case);
  const course = record.courses.at(-1);
  const dates = visits
    .filter((visit) => visit.document.treatment.course === course?.course)
    .flatMap((visit) => visit.document.visit.date ?? [])
    .sort();
  const pdf = await drawCoverSlip({
    shareCode,
    patient: {
      names: owner?.patient.names ?? [],
      chart: owner?.patient.chart ?? null,
      born: owner?.patient.born ?? null,
    },
    tooth: record.tooth,
    dates,
    deadline: course?.handoff.by ?? course?.handoff.due ?? null,
    letterhead: practice.settings.letterhead,
    paper: practice.settings.paper,
    fonts: await ports.fonts(),
  });
  const path = join(practice.paths.records, `${shareCode}-cover-slip.pdf`);
  orTrouble(await writePaper(practice, path, pdf));
}
