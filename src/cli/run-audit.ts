import { dirname, resolve } from 'node:path';
import { type Audit, absentPaths } from '../app/audit/index.js';
import { runAudit } from '../app/audit/run-audit.js';
import { sentenceOf } from '../core/reason-sentence.js';
import { withOrWithoutPractice } from './in-practice.js';
import { printError, printJson, printLine } from './print.js';
import { auditLines } from './words/audit-words.js';

interface AuditFlags {
  terms?: string | undefined;
  practice?: string | undefined;
  json?: true | undefined;
}

/** The `audit` command: 4 when something was found, else 3 when something could not be read, else 0. */
export async function runAuditCommand(paths: readonly string[], flags: AuditFlags): Promise<number> {
  const absent = await absentPaths(paths);
  for (const path of absent) printError(`There is no ${path}. Check the path.`);
  if (absent.length > 0) return 2;
  const near = paths.map((path) => dirname(resolve(path)));
  return withOrWithoutPractice(flags, near, async (practice, ports) => {
    const ran = await runAudit(practice, ports, paths, flags.terms ?? null);
    if (ran.kind === 'refused') {
      printError(ran.sentence);
      return 2;
    }
    if (ran.kind === 'locked') {
      printError(ran.sentence);
      if (flags.json) printJson(asJson(ran.audit));
      return 3;
    }
    for (const note of ran.notes) printError(note);
    if (flags.json) printJson(asJson(ran.audit));
    else for (const line of auditLines(ran.audit)) printLine(line);
    return ran.audit.hits.length > 0 ? 4 : ran.audit.unread.length > 0 ? 3 : 0;
  });
}

const asJson = ({ clean, hits, possible, unread }: Audit) => ({
  clean,
  hits,
  possible,
  unread: unread.map(({ file, where, reason }) => ({
    file,
    ...(where === undefined ? {} : { where }),
    reason: { code: reason.code, sentence: sentenceOf(reason) },
  })),
});
