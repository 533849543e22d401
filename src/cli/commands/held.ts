import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, practiceOf } from '../in-practice.js';
import { printJson, printLine } from '../print.js';
import type { SetExit } from '../set-exit.js';

export function registerHeld(program: Command, setExit: SetExit): void {
  program
    .command('held')
    .description('list everything that waits for a person, with its reason and next step')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON array')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf held', 'whole visits first, then pictures and sidecar entries'],
          ['scopeleaf held --json', 'the same for a program to read'],
        ],
        exits: [0, 1, 2, 3],
      }),
    )
    .action(async (options) => {
      const practice = await practiceOf(options);
      if (!practice) {
        setExit(2);
        return;
      }
      const { listHeldItems } = await import('../../app/held.js');
      const items = await listHeldItems(practice);
      if (options.json) printJson(items);
      else if (items.length === 0) printLine('Nothing is held.');
      for (const item of options.json ? [] : items) {
        const where = `${item.visit}${item.case ? ` (case ${item.case})` : ''}`;
        printLine(`${where}: ${item.name ? `${item.name}: ` : ''}${item.sentence}`);
      }
      setExit(items.length === 0 ? 0 : 3);
    });
}
