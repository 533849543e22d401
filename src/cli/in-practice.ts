import type { Ports } from '../app/ports.js';
import type { Practice } from '../app/practice.js';
import { keySource } from './key-source.js';
import { printError } from './print.js';
import { showProgress } from './progress.js';
import { errorLine } from './words/error-line.js';

export interface PracticeOption {
  practice?: string | undefined;
}

export const PRACTICE_FLAG = '-p, --practice <dir>';
export const PRACTICE_HELP =
  'practice folder (else $SCOPELEAF_PRACTICE, else the folder above with practice.yaml)';

/** Finds and opens the practice; says why not and gives null when it cannot be. */
export async function practiceOf(option: PracticeOption): Promise<Practice | null> {
  const session = await sessionOf(option);
  if (session.ok) return session.practice;
  printError(session.sentence);
  for (const error of session.errors) printError(errorLine(error));
  return null;
}

/** Runs a flow with worker processes that are ended whatever happens. Exit 2 without a practice. */
export async function withPractice(
  option: PracticeOption,
  work: (practice: Practice, ports: Ports) => Promise<number>,
): Promise<number> {
  const practice = await practiceOf(option);
  return practice ? atWork(practice, (ports) => work(practice, ports)) : 2;
}

async function sessionOf(option: PracticeOption, cwd = process.cwd()) {
  const { openSession } = await import('../app/session.js');
  const where = { explicit: option.practice, env: process.env, cwd };
  const session = await openSession({ ...where, key: keySource() });
  if (session.ok && session.keySentence) printError(session.keySentence);
  return session;
}

/**
 * As `withPractice`, for a command that also works without one: null when none is named or found, here or above one of
 * the folders in `near`. A practice that is named and absent, or whose settings have mistakes, still ends with 2.
 */
export async function withOrWithoutPractice(
  option: PracticeOption,
  near: readonly string[],
  work: (practice: Practice | null, ports: Ports) => Promise<number>,
): Promise<number> {
  let session = await sessionOf(option);
  const isNamed = option.practice !== undefined || (process.env['SCOPELEAF_PRACTICE'] ?? '') !== '';
  for (const folder of isNamed ? [] : near) {
    if (session.ok || session.errors.length > 0) break;
    session = await sessionOf(option, folder);
  }
  if (session.ok) {
    const { practice } = session;
    return atWork(practice, (ports) => work(practice, ports));
  }
  if (!isNamed && session.errors.length === 0) return atWork(null, (ports) => work(null, ports));
  printError(session.sentence);
  for (const error of session.errors) printError(errorLine(error));
  return 2;
}

async function atWork(practice: Practice | null, work: (ports: Ports) => Promise<number>): Promise<number> {
  const { openPorts } = await import('../app/session.js');
  const { portsFor } = await import('../app/open-pictures.js');
  const progress = showProgress();
  const ports = openPorts(progress, workersFrom(process.env));
  try {
    return await work(practice ? portsFor(practice, ports) : ports);
  } finally {
    progress.end();
    await ports.close();
  }
}

/** SCOPELEAF_WORKERS sets how many pictures are opened at once, for a machine with little memory. */
function workersFrom(env: NodeJS.ProcessEnv): number | undefined {
  const wanted = Number(env['SCOPELEAF_WORKERS']);
  return Number.isInteger(wanted) && wanted >= 1 && wanted <= 16 ? wanted : undefined;
}

/** As `withPractice`, for commands that name visit folders: exit 2, nothing touched, when one of them is no visit. */
export async function withVisits(
  option: PracticeOption,
  visits: readonly string[],
  work: (practice: Practice, ports: Ports) => Promise<number>,
): Promise<number> {
  return withPractice(option, async (practice, ports) => {
    const { wrongVisitFolders } = await import('../app/intake/visit-folders.js');
    const wrong = await wrongVisitFolders(practice, visits);
    for (const sentence of wrong) printError(sentence);
    return wrong.length > 0 ? 2 : work(practice, ports);
  });
}
