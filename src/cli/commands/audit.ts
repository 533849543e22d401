import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP } from '../in-practice.js';
import type { SetExit } from '../set-exit.js';

export function registerAudit(program: Command, setExit: SetExit): void {
  program
    .command('audit')
    .description('read finished files again and search them for anything that identifies')
    .argument('<path...>', 'files or folders, of a practice or not')
    .option('--terms <file>', 'more to search for, one a line')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf audit cases', 'reads every file of every case, its pictures too'],
          [
            'scopeleaf audit talk.pptx --terms names.txt',
            'a file from elsewhere, searched for names of your own',
          ],
        ],
        exits: [0, 1, 2, 3, 4],
      }),
    )
    .action(async (paths, options) => {
      const { runAuditCommand } = await import('../run-audit.js');
      setExit(await runAuditCommand(paths, options));
    });
}
