import { exitOfReport, type VisitReport, worstExit } from '../../app/report.js';
import { printJson, printLine } from '../print.js';
import { printVisit } from './visit-words.js';

/** Prints what became of one or several visits. @returns the exit code */
export function printReports(
  reports: readonly VisitReport[],
  how: { json: boolean; visits: number },
): number {
  if (how.json) printJson(reports.length === 1 && how.visits === 1 ? reports[0] : reports);
  for (const [at, report] of how.json ? [] : reports.entries()) {
    if (at > 0) printLine();
    printVisit(report);
  }
  return worstExit(reports.map(exitOfReport));
}
