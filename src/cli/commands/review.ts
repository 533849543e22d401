import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, practiceOf } from '../in-practice.js';
import type { SetExit } from '../set-exit.js';

export function registerReview(program: Command, setExit: SetExit): void {
  program
    .command('review')
    .description('write down that a person has looked at a sheet, exactly as it is')
    .argument('<code>', 'case code, as intake prints it')
    .option('-t, --template <name>', 'which sheet', 'referrer')
    .requiredOption('--by <initials>', 'who has looked at every picture of it')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf review K7QD2M --by AB', "AB has seen the referrer's sheet; says first where to look"],
          ['scopeleaf review K7QD2M -t teaching --by AB', 'the same for the sheet of another template'],
        ],
        exits: [0, 1, 2, 3],
      }),
    )
    .action(async (code, options) => {
      const practice = await practiceOf(options);
      if (!practice) {
        setExit(2);
        return;
      }
      const { runReview } = await import('../run-review.js');
      setExit(await runReview(practice, code.toUpperCase(), options));
    });
}
