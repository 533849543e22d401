import type { Command } from '@commander-js/extra-typings';
import { InvalidArgumentError } from 'commander';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, withPractice } from '../in-practice.js';
import type { SetExit } from '../set-exit.js';

export function registerSheet(program: Command, setExit: SetExit): void {
  program
    .command('sheet')
    .description('draw a sheet of a case again from what is kept')
    .argument('<code>', 'case code, as intake prints it')
    .option('-t, --template <name>', 'template to draw', 'referrer')
    .option('--check-template <file>', 'only check a template file and lay it out; writes nothing')
    .option(
      '--max-mb <size>',
      'largest size in megabytes, for e-mail; pictures are reduced to fit',
      megabytes,
    )
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf sheet K7QD2M', "draws the referrer's sheet and prints where it is"],
          ['scopeleaf sheet K7QD2M --max-mb 5', 'the same, small enough for e-mail; says what was reduced'],
        ],
        exits: [0, 1, 2, 3],
      }),
    )
    .action(async (code, options) => {
      setExit(
        await withPractice(options, async (practice, ports) => {
          const { runSheet } = await import('../run-sheet.js');
          return runSheet(practice, ports, code.toUpperCase(), options);
        }),
      );
    });
}

function megabytes(text: string): number {
  const size = Number(text);
  if (!Number.isFinite(size) || size <= 0)
    throw new InvalidArgumentError('Give a number of megabytes, for example 5.');
  return size;
}
