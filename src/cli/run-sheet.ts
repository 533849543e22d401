import type { Ports } from '../app/ports.js';
import type { Practice } from '../app/practice.js';
import { withdrawalSentence } from '../app/share/withdrawal.js';
import { checkTemplateFile, drawCaseSheet } from '../app/sheet/index.js';
import { printError, printJson, printLine } from './print.js';
import { errorLine } from './words/error-line.js';
import { printWithdrawal } from './words/share-words.js';

interface SheetFlags {
  template: string;
  checkTemplate?: string | undefined;
  maxMb?: number | undefined;
  json?: true | undefined;
}

/** The `sheet` command. @returns the exit code */
export async function runSheet(
  practice: Practice,
  ports: Ports,
  code: string,
  flags: SheetFlags,
): Promise<number> {
  if (flags.checkTemplate !== undefined) return runCheck(practice, ports, code, flags.checkTemplate, flags);
  const made = await drawCaseSheet(practice, ports, code, {
    template: flags.template,
    ...(flags.maxMb === undefined ? {} : { maxMegabytes: flags.maxMb }),
  });
  if (made.kind === 'unknown-case')
    return complain(`There is no case ${code}. The code is in what intake printed.`);
  if (made.kind === 'nothing-kept') {
    printError(`Case ${code} has no picture that may be shown. See: scopeleaf held`);
    if (flags.json) printJson({ case: code, sheets: [], errors: [] });
    return 3;
  }
  if (made.kind === 'refused' && made.withdrawn) {
    const { withdrawn, errors } = made;
    if (flags.json) printJson({ case: code, sheets: [], errors, withdrawn });
    else {
      printError(withdrawalSentence(withdrawn));
      printWithdrawal(withdrawn);
    }
    return 3;
  }
  if (made.kind === 'refused') {
    if (!flags.json) return complainAll(made.errors);
    printJson({ case: code, sheets: [], errors: made.errors });
    return 2;
  }
  if (flags.json) {
    const { sheet, pages, bytes, reduced } = made;
    printJson({ case: code, sheets: [sheet], pages, bytes, reduced });
    return 0;
  }
  if (made.reduced) printLine(`To keep within ${flags.maxMb} MB: ${made.reduced}.`);
  if (made.tooLarge)
    printLine(
      `It is still ${Number((made.bytes / 1e6).toPrecision(2))} MB, larger than ${flags.maxMb} MB. Show fewer pictures.`,
    );
  printLine(made.sheet);
  return 0;
}

async function runCheck(
  practice: Practice,
  ports: Ports,
  code: string,
  file: string,
  flags: SheetFlags,
): Promise<number> {
  const checked = await checkTemplateFile(practice, ports, code, file);
  if (checked.kind === 'unknown-case')
    return complain(`There is no case ${code}. The code is in what intake printed.`);
  if (flags.json)
    printJson({ ok: checked.kind === 'fits', errors: checked.kind === 'refused' ? checked.errors : [] });
  if (checked.kind === 'refused') return flags.json ? 2 : complainAll(checked.errors);
  if (!flags.json)
    printLine(
      `The template is sound; with case ${code} it gives ${checked.pages} ${checked.pages === 1 ? 'page' : 'pages'}.`,
    );
  return 0;
}

function complain(sentence: string): number {
  printError(sentence);
  return 2;
}

function complainAll(errors: readonly Parameters<typeof errorLine>[0][]): number {
  for (const error of errors) printError(errorLine(error));
  return 2;
}
