/**
 * Takes one visit folder in: originals first, then the right-patient guard, then one filing per document of the
 * sidecar. Reads like the flow: drop, sidecar, recognise, guard, file, sheet.
 */
import { clearTmp, type Practice } from '../../practice/index.js';
import type { Ports } from '../ports.js';
import type { VisitReport } from '../report.js';
import { orTrouble } from '../trouble.js';
import { readDrop } from './drop.js';
import type { IntakeOptions } from './options.js';

/** One report per document of the sidecar; one in all when nothing is made of the folder. */
export async function intakeVisit(
  practice: Practice,
  folder: string,
  ports: Ports,
  options: IntakeOptions,
): Promise<VisitReport[]> {
  // The rest of the flow is loaded while the folder is looked at for the second time.
  const [drop, { takeDrop }] = await Promise.all([
    readDrop(practice, folder, ports, options.write),
    import('./take-drop.js'),
  ]);
  try {
    return await takeDrop(practice, drop, ports, options);
  } finally {
    if (options.write) orTrouble(await clearTmp(practice));
  }
}
