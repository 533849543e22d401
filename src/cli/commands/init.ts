import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { printError, printJson, printLine } from '../print.js';
import type { SetExit } from '../set-exit.js';

export function registerInit(program: Command, setExit: SetExit): void {
  program
    .command('init')
    .description('make a practice folder with its settings, inbox and private store')
    .argument('<dir>', 'folder to make or to fill; one that holds a practice already is left alone')
    .option('--json', 'print one JSON object')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf init ~/practice', 'makes practice.yaml, inbox, private, cases, outbox and templates'],
          ['scopeleaf init . --json', 'the same in this folder, and lists what was made'],
        ],
        exits: [0, 1, 2],
      }),
    )
    .action(async (dir, { json }) => {
      const { initPractice } = await import('../../app/practice.js');
      const made = await initPractice(dir);
      if (!made.ok) {
        printError(made.sentence);
        setExit(made.because === 'usage' ? 2 : 1);
        return;
      }
      if (json) printJson({ practice: made.root, made: made.made });
      else {
        printLine(`A practice folder is ready: ${made.root}`);
        printLine('Put each visit as a folder into inbox, then run: scopeleaf watch', '  ');
        printLine(
          'The folder private holds names and originals. Keep it on an encrypted disk and back it up.',
          '  ',
        );
      }
    });
}
