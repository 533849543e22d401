import type { Practice } from '../../practice/index.js';
import type { Ports } from '../ports.js';
import type { VisitReport } from '../report.js';
import { asOnlyWriter } from '../session.js';
import { intakeVisit } from './index.js';

/** Takes folders in one after the other. "It is all here": nothing is waited for. */
export const intakeVisits = (
  practice: Practice,
  folders: readonly string[],
  ports: Ports,
): Promise<VisitReport[]> =>
  asOnlyWriter(practice, 'intake', () => each(practice, folders, ports, { write: true, waits: false }));

/** Says what intake would say; writes nothing and needs no lock. */
export const checkVisits = (
  practice: Practice,
  folders: readonly string[],
  ports: Ports,
): Promise<VisitReport[]> => each(practice, folders, ports, { write: false, waits: true });

async function each(
  practice: Practice,
  folders: readonly string[],
  ports: Ports,
  options: { write: boolean; waits: boolean },
): Promise<VisitReport[]> {
  const reports: VisitReport[] = [];
  for (const folder of folders) reports.push(...(await intakeVisit(practice, folder, ports, options)));
  return reports;
}
