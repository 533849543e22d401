import type { Ports } from '../app/ports.js';
import type { Practice } from '../app/practice.js';
import { exitOfReport, worstExit } from '../app/report.js';
import { openSession } from '../app/session.js';
import { keepKey } from '../app/unlock.js';
import { watchPractice } from '../app/watch/index.js';
import { printError, printLine } from './print.js';
import { errorLine } from './words/error-line.js';
import { printVisit } from './words/visit-words.js';

/** Runs `watch` until Ctrl-C or, with `once`, for one pass. @returns the exit code */
export async function watchUntilStopped(
  practice: Practice,
  ports: Ports,
  options: { once: boolean; json: boolean },
): Promise<number> {
  const stop = new AbortController();
  const onSignal = (): void => {
    if (!options.once) printError('Stopping; a visit at work is finished first. Ctrl-C again stops at once.');
    stop.abort();
  };
  process.once('SIGINT', onSignal);
  process.once('SIGTERM', onSignal);
  const say = options.json ? printError : printLine;
  if (!options.once) say(`Watching ${practice.paths.inbox}. Stop with Ctrl-C.`);
  /** Of each visit the last word counts: what was refused and then corrected is done. */
  const exits = new Map<string, number>();
  const latest = latestSettings(practice);
  try {
    await watchPractice(practice, ports, {
      once: options.once,
      signal: stop.signal,
      reopen: latest,
      onReports: (reports) => {
        for (const { visit } of reports) exits.set(visit, worstExit(reports.map(exitOfReport)));
        for (const report of reports) {
          if (options.json) process.stdout.write(`${JSON.stringify(report)}\n`);
          else printVisit(report);
        }
      },
      onStatus: (sentence) => say(sentence),
      onTrouble: (sentence) => {
        if (options.once) exits.set(sentence, 1);
        printError(sentence);
      },
    });
  } finally {
    process.off('SIGINT', onSignal);
    process.off('SIGTERM', onSignal);
  }
  return worstExit([...exits.values()]);
}

/** practice.yaml read anew for each visit; with mistakes in it the settings at hand go on, and it is said once. */
function latestSettings(practice: Practice): () => Promise<Practice> {
  let current = practice;
  let said = '';
  return async () => {
    const session = await openSession({ explicit: practice.root, env: {}, cwd: practice.root });
    if (session.ok) {
      // The key was given once, at the start.
      current = keepKey(session.practice, practice);
      said = '';
      return current;
    }
    const words = [session.sentence, ...session.errors.map(errorLine)].join('\n');
    if (words !== said) {
      printError(
        `${session.errors.length === 0 ? session.sentence : 'practice.yaml has mistakes.'} The settings read before go on.`,
      );
      for (const error of session.errors) printError(errorLine(error));
    }
    said = words;
    return current;
  };
}
