/**
 * The command line. Comes in: arguments. Leaves: an exit code. Commands are listed by name and loaded when they are
 * called, and each imports what is heavy only when it works, so that --help answers at once.
 */
import type { Command as TypedCommand } from '@commander-js/extra-typings';
import { Command, CommanderError } from 'commander';
import { COMMANDS } from './command-list.js';
import { nameKeyFile } from './key-source.js';
import { printError } from './print.js';
import type { SetExit } from './set-exit.js';

const USAGE = 2;

/** @returns the exit code; see the README for what each means */
export async function main(argv: readonly string[]): Promise<number> {
  let exit = 0;
  // A reader that stops reading (head, less) must not stop the work.
  process.stdout.on('error', ignoreClosedPipe);
  const program = new Command('scopeleaf')
    .description(
      'Turns a dropped folder of microscope stills and radiographs into a de-identified case sheet.',
    )
    .version('0.1.0')
    .option('--key-file <file>', 'key file that opens encrypted private records (else $SCOPELEAF_KEY_FILE)')
    .hook('preAction', (root) => nameKeyFile(root.opts()['keyFile']))
    .exitOverride()
    .showHelpAfterError('Run the command with --help for examples.')
    .configureHelp({ helpWidth: Math.min(process.stdout.columns ?? 80, 80) });
  const setExit: SetExit = (code) => {
    exit = code;
  };
  // The words that are typed name the command; the others are only listed.
  const called = argv.filter((word) => !word.startsWith('-'));
  for (const { name, takes, does, load } of COMMANDS) {
    if (called.includes(name)) (await load())(program as unknown as TypedCommand, setExit);
    else program.command(`${name} ${takes}`.trim()).description(does);
  }
  try {
    await program.parseAsync([...argv], { from: 'user' });
    return exit;
  } catch (error) {
    return exitOfError(error);
  }
}

function ignoreClosedPipe(error: NodeJS.ErrnoException): void {
  if (error.code !== 'EPIPE') throw error;
}

function exitOfError(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : USAGE;
  // Trouble carries a sentence made for people; anything else is a bug, and its message may quote a path.
  const isTrouble = error instanceof Error && error.name === 'Trouble';
  printError(
    isTrouble
      ? error.message
      : 'Something went wrong inside the program. Nothing was lost; please report this, with what you did.',
  );
  if (!isTrouble && process.env['SCOPELEAF_DEBUG']) console.error(error);
  return waitsForPerson(error) ? 3 : 1;
}

/** Not trouble with the machine: somebody must give the key, or see to what lies in the inbox. */
const waitsForPerson = (error: unknown): boolean =>
  error instanceof Error &&
  'reason' in error &&
  ['locked', 'erased'].includes((error.reason as { code: string }).code);
