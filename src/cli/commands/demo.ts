import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import type { SetExit } from '../set-exit.js';

export function registerDemo(program: Command, setExit: SetExit): void {
  program
    .command('demo')
    .description('run the main job on the drawn sample visits and say where the sheets are')
    .argument('[dir]', 'folder for the practice it makes; a fresh temporary folder when left out')
    .option('--json', 'print one JSON array of reports')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf demo', 'uses a temporary folder; the last line is the path of a sheet'],
          ['scopeleaf demo /tmp/try', 'the same in a folder of your choice, which must be empty or new'],
        ],
        exits: [0, 1, 2],
      }),
    )
    .action(async (dir, options) => {
      const { runDemo } = await import('../run-demo.js');
      setExit(await runDemo(dir ?? null, options.json ?? false));
    });
}
