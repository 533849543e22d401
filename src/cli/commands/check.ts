import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, withVisits } from '../in-practice.js';
import type { SetExit } from '../set-exit.js';
import { printReports } from '../words/print-reports.js';

export function registerCheck(program: Command, setExit: SetExit): void {
  program
    .command('check')
    .description('say what is missing or wrong in visit folders; writes nothing')
    .argument('<visit...>', 'folders with pictures and a visit.yaml')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print what intake would print')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          [
            'scopeleaf check "inbox/2026-02-11 room 2"',
            'reads the folder as it is now, while pictures can still be taken',
          ],
          ['scopeleaf check inbox/* --json', 'the same for several, for a program to read'],
        ],
        exits: [0, 1, 2, 3],
      }),
    )
    .action(async (visits, options) => {
      setExit(
        await withVisits(options, visits, async (practice, ports) => {
          const { checkVisits } = await import('../../app/intake/several.js');
          const reports = await checkVisits(practice, visits, ports);
          return printReports(reports, { json: options.json ?? false, visits: visits.length });
        }),
      );
    });
}
