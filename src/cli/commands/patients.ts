import type { Command } from '@commander-js/extra-typings';
import type { Ports } from '../../app/ports.js';
import type { Practice } from '../../app/practice.js';
import { afterHelp } from '../help.js';
import { PRACTICE_FLAG, PRACTICE_HELP, withPractice } from '../in-practice.js';
import type { SetExit } from '../set-exit.js';

type Run = typeof import('../run-patients.js');

/** Each action works in a practice with the module that does the work. */
const within = (
  options: { practice?: string | undefined },
  work: (run: Run, practice: Practice, ports: Ports) => Promise<number>,
): Promise<number> =>
  withPractice(options, async (practice, ports) => work(await import('../run-patients.js'), practice, ports));

export function registerPatients(program: Command, setExit: SetExit): void {
  const patients = program
    .command('patients')
    .description('list, export and erase patients; encrypt the private records; look after the inbox')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf patients list', 'everybody on file, by chart number'],
          ['scopeleaf patients protect --key-file /media/key/practice.key', 'encrypts the private records'],
        ],
        exits: [0, 1, 2, 3],
      }),
    );
  registerLooking(patients, setExit);
  registerProtecting(patients, setExit);
  registerOnePatient(patients, setExit);
}

function registerLooking(patients: Command, setExit: SetExit): void {
  patients
    .command('list')
    .description('everybody on file with their cases and visits')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON array')
    .action(async (options) => {
      setExit(await within(options, (run, practice) => run.runList(practice, options)));
    });
  patients
    .command('inbox')
    .description('say which inbox folders are proven stored and may be removed by you; removes nothing')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON array')
    .action(async (options) => {
      setExit(await within(options, (run, practice, ports) => run.runInbox(practice, ports, options)));
    });
  patients
    .command('open')
    .description('write a readable copy of an encrypted file, such as a cover slip')
    .argument('<file>', 'a file of the private folder')
    .argument('<dir>', 'new folder outside of the practice')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object')
    .action(async (file, dir, options) => {
      setExit(await within(options, (run, practice) => run.runOpen(practice, file, dir, options)));
    });
}

function registerProtecting(patients: Command, setExit: SetExit): void {
  patients
    .command('protect')
    .description('encrypt the private records; run it again after an interruption')
    .option('--passphrase', 'open them with a passphrase; else with the key file that --key-file names')
    .option('--originals', 'encrypt originals and stripped copies too')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object')
    .addHelpText(
      'after',
      afterHelp({
        examples: [
          ['scopeleaf patients protect --passphrase', 'asks for a passphrase, twice'],
          [
            'scopeleaf patients protect --key-file /media/key/practice.key --originals',
            'makes the key file, or uses it if it is there',
          ],
        ],
        exits: [0, 1, 2, 3],
      }),
    )
    .action(async (options) => {
      setExit(await within(options, (run, practice, ports) => run.runProtect(practice, ports, options)));
    });
  patients
    .command('unprotect')
    .description('decrypt the private records again; needs the key')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object')
    .action(async (options) => {
      setExit(await within(options, (run, practice, ports) => run.runUnprotect(practice, ports, options)));
    });
}

function registerOnePatient(patients: Command, setExit: SetExit): void {
  patients
    .command('export')
    .description('copy everything on one patient, readable, into a new folder')
    .argument('<chart>', 'chart number; of a patient without one a case code')
    .argument('<dir>', 'new folder outside of the practice')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object')
    .action(async (chart, dir, options) => {
      setExit(
        await within(options, (run, practice, ports) => run.runExport(practice, ports, chart, dir, options)),
      );
    });
  patients
    .command('erase')
    .description('erase one patient on request; asks first, and leaves a receipt')
    .argument('<chart>', 'chart number; of a patient without one a case code')
    .option('--yes', 'do not ask')
    .option(PRACTICE_FLAG, PRACTICE_HELP)
    .option('--json', 'print one JSON object')
    .action(async (chart, options) => {
      setExit(await within(options, (run, practice, ports) => run.runErase(practice, ports, chart, options)));
    });
}
