import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, withVisits } from '../in-practice.js';
import type { SetExit } from '../set-exit.js';
import { printReports } from '../words/print-reports.js';

export function registerIntake(program: Command, setExit: SetExit): void {
  program
    .command('intake')
    .description('take visit folders in: store, strip, label, and draw the sheet')
    .argument('<visit...>', 'folders with pictures and a visit.yaml; read in place, never changed')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object, or an array for several visits or teeth')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf intake "inbox/2026-02-11 room 2"', 'takes one visit in and says where its sheet is'],
          ['scopeleaf intake inbox/* --json', 'takes several in, for a program to read'],
        ],
        exits: [0, 1, 2, 3],
      }),
    )
    .action(async (visits, options) => {
      setExit(
        await withVisits(options, visits, async (practice, ports) => {
          const { intakeVisits } = await import('../../app/intake/several.js');
          const reports = await intakeVisits(practice, visits, ports);
          return printReports(reports, { json: options.json ?? false, visits: visits.length });
        }),
      );
    });
}
