import type { Command } from '@commander-js/extra-typings';
import { Option } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, practiceOf, withPractice } from '../in-practice.js';
import { printError } from '../print.js';
import type { SetExit } from '../set-exit.js';

export function registerShare(program: Command, setExit: SetExit): void {
  program
    .command('share')
    .description('audit and release a reviewed sheet to the outbox, or say all that stands against it')
    .argument('[code]', 'case code, as intake prints it')
    .option('-t, --template <name>', 'which sheet', 'referrer')
    .option('--to <who>', 'who gets it; kept in the private register')
    .option('--reviewed-by <initials>', 'who has just looked at every picture of it')
    .option('--pictures', 'with the pictures that the sheet shows')
    .addOption(
      new Option('--basis <basis>', 'on what it rests; else whichever covers the audience').choices([
        'consent',
        'treatment',
      ] as const),
    )
    .option('--list', 'only list what was shared with whom')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print JSON: one object, with --list an array')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          [
            'scopeleaf share K7QD2M --to "Dr Example" --reviewed-by AB',
            "the referrer's sheet, which AB has looked at",
          ],
          ['scopeleaf share --list', 'what was shared, when, with whom and on which basis'],
        ],
        exits: [0, 1, 2, 3],
      }),
    )
    .action(async (code, options) => {
      setExit(options.list ? await list(options) : await share(code, options));
    });
}

type Options = Parameters<typeof import('../run-share.js').runShare>[3] & { practice?: string | undefined };

async function list(options: Options): Promise<number> {
  const practice = await practiceOf(options);
  if (!practice) return 2;
  const { runShareList } = await import('../run-share.js');
  return runShareList(practice, options.json ?? false);
}

async function share(code: string | undefined, options: Options): Promise<number> {
  if (code === undefined) {
    printError('Say which case: scopeleaf share CODE --to WHO. What was shared: scopeleaf share --list');
    return 2;
  }
  return withPractice(options, async (practice, ports) => {
    const { runShare } = await import('../run-share.js');
    return runShare(practice, ports, code.toUpperCase(), options);
  });
}
