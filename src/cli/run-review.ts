import type { Practice } from '../app/practice.js';
import { type ReviewAnswer, reviewSheet } from '../app/review/index.js';
import { INITIALS_CAUTION, INITIALS_SENTENCE, readInitials } from '../app/review/initials.js';
import { printError, printJson, printLine } from './print.js';
import { errorLine } from './words/error-line.js';
import { printLooks } from './words/share-words.js';

interface ReviewFlags {
  template: string;
  by: string;
  json?: true | undefined;
}

/** The `review` command. @returns the exit code */
export async function runReview(practice: Practice, code: string, flags: ReviewFlags): Promise<number> {
  const { template, json } = flags;
  const by = readInitials(flags.by);
  if (by === null) return complain(INITIALS_SENTENCE, 2);
  const onLooks = json ? () => undefined : printLooks;
  const answer = await reviewSheet(practice, { now: () => new Date() }, code, { template, by, onLooks });
  if (answer.kind !== 'reviewed') return notReviewed(answer, code, flags);
  const { sheet, sha256, looks } = answer;
  if (json) {
    printJson({ reviewed: true, case: code, template, sheet, sha256, by, looks, caution: INITIALS_CAUTION });
    return 0;
  }
  printLine(`Written down: ${by} has seen ${sheet} exactly as it is now.`);
  printLine(`SHA-256 ${sha256}`, '  ');
  printLine(`If the sheet changes, this no longer counts. ${INITIALS_CAUTION}`, '  ');
  return 0;
}

function notReviewed(
  answer: Exclude<ReviewAnswer, { kind: 'reviewed' }>,
  code: string,
  { template, json }: ReviewFlags,
): number {
  switch (answer.kind) {
    case 'unknown-case':
      return complain(`There is no case ${code}. The code is in what intake printed.`, 2);
    case 'refused':
      for (const error of answer.errors) printError(errorLine(error));
      return 2;
    case 'locked':
    case 'no-sheet': {
      const sentence =
        answer.kind === 'locked'
          ? 'The private records are locked. Unlock them with the key file or the passphrase, then review again.'
          : `There is no ${answer.sheet} to look at. Draw it first: scopeleaf sheet ${code} -t ${template}`;
      const reason = { code: answer.kind, sentence };
      if (json) printJson({ reviewed: false, case: code, template, reason });
      return complain(sentence, 3);
    }
  }
}

function complain(sentence: string, exit: number): number {
  printError(sentence);
  return exit;
}
