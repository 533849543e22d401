import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { printJson } from '../print.js';
import type { SetExit } from '../set-exit.js';

export function registerSchema(program: Command, setExit: SetExit): void {
  program
    .command('schema')
    .description('print the JSON Schema of visit.yaml, for an editor that completes and checks')
    .option('--json', 'the same; the schema is JSON always')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf schema > visit.schema.json', 'writes the schema to a file'],
          ['scopeleaf schema --json', 'prints it'],
        ],
        exits: [0, 1],
      }),
    )
    .action(async () => {
      const { sidecarJsonSchema } = await import('../../app/sidecar-schema.js');
      printJson(sidecarJsonSchema());
      setExit(0);
    });
}
