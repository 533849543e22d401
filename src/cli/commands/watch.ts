import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, withPractice } from '../in-practice.js';
import type { SetExit } from '../set-exit.js';

export function registerWatch(program: Command, setExit: SetExit): void {
  program
    .command('watch')
    .description('watch the inbox and take each visit in once it is complete and still')
    .option('--once', 'one pass; leaves what still waits')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object a line')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf watch', 'runs until Ctrl-C; the status lines say what each folder waits for'],
          ['scopeleaf watch --once', 'takes in what is complete now, then ends'],
        ],
        exits: [0, 1, 2, 3],
      }),
    )
    .action(async (options) => {
      setExit(
        await withPractice(options, async (practice, ports) => {
          const { watchUntilStopped } = await import('../watch-loop.js');
          return watchUntilStopped(practice, ports, {
            once: options.once ?? false,
            json: options.json ?? false,
          });
        }),
      );
    });
}
