import type { Command } from '@commander-js/extra-typings';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, withVisits } from '../in-practice.js';
import { printJson, printLine } from '../print.js';
import type { SetExit } from '../set-exit.js';

export function registerDraft(program: Command, setExit: SetExit): void {
  program
    .command('draft')
    .description('make a numbered contact sheet and a prefilled visit.yaml for a folder')
    .argument('<visit>', 'folder with pictures')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print the paths as one JSON object')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf draft "inbox/2026-02-11 room 2"', 'writes both under private/drafts and prints where'],
          ['scopeleaf draft ~/card --json', 'the same for any folder, for a program to read'],
        ],
        exits: [0, 1, 2],
      }),
    )
    .action(async (visit, options) => {
      setExit(
        await withVisits(options, [visit], async (practice, ports) => {
          const { asOnlyWriter } = await import('../../app/session.js');
          const { makeDraft } = await import('../../app/draft/index.js');
          const draft = await asOnlyWriter(practice, 'draft', () => makeDraft(practice, visit, ports));
          if (options.json) printJson({ contactSheet: draft.contactSheet, sidecar: draft.sidecar });
          else {
            printLine(draft.contactSheet);
            printLine(draft.sidecar);
          }
          return 0;
        }),
      );
    });
}
