import type { PictureReport, VisitReport } from '../../app/report.js';
import { printLine } from '../print.js';
import { errorLine } from './error-line.js';

const MOST_FINDINGS = 5;

/** A report as a person at the terminal reads it: what became of the visit, then only what needs a hand. */
export function printVisit(report: VisitReport): void {
  printLine(headline(report));
  if (report.reason) printLine(report.reason.sentence, '  ');
  if (report.status === 'duplicate') return;
  const tally = tallyOf(report.pictures);
  if (tally !== '') printLine(tally, '  ');
  for (const error of report.errors) printLine(errorLine(error), '  ');
  for (const picture of report.pictures) printPicture(picture, report);
  printFindings(report);
  for (const sheet of report.sheets) printLine(`Sheet: ${sheet}`, '  ');
}

function headline(report: VisitReport): string {
  const { visit, status } = report;
  switch (status) {
    case 'done':
      return `${visit}: done${report.case ? `, case ${report.case}` : ''}`;
    case 'revised':
      return `${visit}: revised, case ${report.case}, revision ${report.revision}`;
    case 'duplicate':
      return `${visit}: already on file in case ${report.case}, nothing new`;
    case 'waiting':
      return `${visit}: waiting for ${report.waitingFor ?? 'more files'}`;
    case 'refused':
      return `${visit}: visit.yaml is refused`;
    case 'held':
      return `${visit}: HELD, a person must look`;
  }
}

function tallyOf(pictures: readonly PictureReport[]): string {
  const count = (status: PictureReport['status']): number =>
    pictures.filter((picture) => picture.status === status).length;
  const words = (['kept', 'held', 'failed', 'duplicate', 'unlabelled'] as const).flatMap((status) =>
    count(status) === 0 ? [] : [`${count(status)} ${status}`],
  );
  return words.length === 0 ? '' : `Pictures: ${words.join(', ')}`;
}

function printPicture(picture: PictureReport, report: VisitReport): void {
  // Said once for the whole visit already.
  if (picture.reason && picture.reason.code === report.reason?.code) return;
  if (picture.status === 'duplicate') {
    printLine(`${picture.source}: the same picture as ${picture.duplicateOf}; left out`, '  ');
  } else if (picture.reason) {
    printLine(`${picture.source}: ${picture.status}. ${picture.reason.sentence}`, '  ');
  }
  if (picture.covered > 0) {
    const places = picture.covered === 1 ? 'one place' : `${picture.covered} places`;
    printLine(`${picture.source}: text in the picture was covered (${places})`, '  ');
  }
  for (const look of picture.look) printLine(`${picture.source}: look: ${look}`, '  ');
  for (const note of picture.notes ?? []) printLine(`${picture.source}: ${note}`, '  ');
}

function printFindings({ findings }: VisitReport): void {
  for (const { level, sentence } of findings.slice(0, MOST_FINDINGS))
    printLine(`${level}: ${sentence}`, '  ');
  const more = findings.length - MOST_FINDINGS;
  if (more > 0) printLine(`and ${more} more; --json lists them all`, '  ');
}
