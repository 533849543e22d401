/**
 * The command line. Comes in: arguments. Leaves: an exit code. Commands are registered with their names and help only;
 * everything heavy is imported by the command that needs it, so that --help answers at once.
 */
import { Command, CommanderError } from '@commander-js/extra-typings';
import { registerCheck } from './commands/check.js';
import { registerDemo } from './commands/demo.js';
import { registerDraft } from './commands/draft.js';
import { registerHeld } from './commands/held.js';
import { registerInit } from './commands/init.js';
import { registerIntake } from './commands/intake.js';
import { registerSchema } from './commands/schema.js';
import { registerSheet } from './commands/sheet.js';
import { registerWatch } from './commands/watch.js';
import { printError } from './print.js';

export type SetExit = (code: number) => void;

const USAGE = 2;

/** @returns the exit code; see the README for what each means */
export async function main(argv: readonly string[]): Promise<number> {
  let exit = 0;
  const program = new Command('scopeleaf')
    .description(
      'Turns a dropped folder of microscope stills and radiographs into a de-identified case sheet.',
    )
    .version('0.1.0')
    .exitOverride()
    .showHelpAfterError('Run the command with --help for examples.')
    .configureHelp({ helpWidth: Math.min(process.stdout.columns ?? 80, 80) });
  const setExit: SetExit = (code) => {
    exit = code;
  };
  for (const register of [
    registerInit,
    registerCheck,
    registerDraft,
    registerIntake,
    registerWatch,
    registerHeld,
    registerSheet,
    registerSchema,
    registerDemo,
  ]) {
    register(program, setExit);
  }
  try {
    await program.parseAsync([...argv], { from: 'user' });
    return exit;
  } catch (error) {
    return exitOfError(error);
  }
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
  return 1;
}
