import type { Ports } from '../app/ports.js';
import type { Practice } from '../app/practice.js';
import { INITIALS_CAUTION, INITIALS_SENTENCE, readInitials } from '../app/review/initials.js';
import { gateSentence } from '../app/share/gate-reason.js';
import { readRecipient, shareSheet } from '../app/share/index.js';
import { type ListedShare, listShares } from '../app/share/list.js';
import { printError, printJson, printLine } from './print.js';
import { errorLine } from './words/error-line.js';
import { printLooks, printShare } from './words/share-words.js';

interface ShareFlags {
  template: string;
  to?: string | undefined;
  reviewedBy?: string | undefined;
  pictures?: true | undefined;
  basis?: 'consent' | 'treatment' | undefined;
  json?: true | undefined;
}

/** The `share` command. @returns the exit code */
export async function runShare(
  practice: Practice,
  ports: Ports,
  code: string,
  flags: ShareFlags,
): Promise<number> {
  const to = readRecipient(flags.to ?? '');
  if (to === null)
    return complain('Say for whom the sheet is, for example: --to "Dr Example, North Street".');
  const reviewedBy = flags.reviewedBy === undefined ? null : readInitials(flags.reviewedBy);
  if (flags.reviewedBy !== undefined && reviewedBy === null)
    return complain(INITIALS_SENTENCE.replace('--by', '--reviewed-by'));
  const answer = await shareSheet(practice, ports, code, {
    template: flags.template,
    to,
    reviewedBy,
    pictures: flags.pictures ?? false,
    basis: flags.basis ?? null,
    onLooks: (sheet, looks) => {
      if (flags.json) return;
      printLooks(sheet, looks);
      printLine(`Reviewed by ${reviewedBy}. ${INITIALS_CAUTION}`);
    },
  });
  if (answer.kind === 'unknown-case')
    return complain(`There is no case ${code}. The code is in what intake printed.`);
  if (answer.kind === 'refused') {
    if (flags.json) printJson({ shared: false, case: code, reasons: [], errors: answer.errors });
    else for (const error of answer.errors) printError(errorLine(error));
    return 2;
  }
  const { report } = answer;
  if (flags.json) printJson(report);
  else printShare(report);
  return report.shared ? 0 : 3;
}

/** `share --list`: what was shared with whom. @returns the exit code */
export async function runShareList(practice: Practice, json: boolean): Promise<number> {
  const shares = await listShares(practice);
  if (shares === null) {
    printError(gateSentence({ code: 'locked' }));
    return 3;
  }
  if (json) printJson(shares);
  else if (shares.length === 0) printLine('Nothing has been shared.');
  for (const one of json ? [] : shares) {
    printLine(`${one.at.slice(0, 10)}  ${one.to}`);
    printLine(describe(one), '  ');
  }
  return 0;
}

function describe(one: ListedShare): string {
  const { what, template, version, replaces, shareCode, basis, by, status, outdated } = one;
  const parts = [
    `sheet "${template}"${what === 'sheet' ? '' : ' with pictures'} of case ${one.case}, version ${version}${replaces === null ? '' : ` (replaces ${replaces})`}`,
    `code ${shareCode}`,
    `basis ${basis}`,
    `reviewed by ${by}`,
    ...(outdated ? ['a later version has been shared since'] : []),
    ...(status === 'interrupted' ? ['interrupted; the next share settles it'] : []),
  ];
  return parts.join('; ');
}

function complain(sentence: string): number {
  printError(sentence);
  return 2;
}
