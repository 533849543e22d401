interface HelpParts {
  /** Two command lines with what each does. */
  examples: readonly (readonly [command: string, does: string])[];
  /** Exit codes this command can end with. */
  exits: readonly (0 | 1 | 2 | 3 | 4)[];
}

const MEANING = {
  0: 'done, nothing held',
  1: 'trouble with the machine, or a bug; nothing is half-written',
  2: 'wrong usage, a refused sidecar, or settings or a template with mistakes',
  3: 'done, but something is held for a person',
  4: 'found what must not be there, or something missing',
} as const;

/** The part of a command's help that shows it at work. */
export function afterHelp({ examples, exits }: HelpParts): string {
  const shown = examples.map(([command, does]) => `  ${command}\n      ${does}`);
  const codes = exits.map((code) => `  ${code}  ${MEANING[code]}`);
  return ['', 'Examples:', ...shown, '', 'Exit codes:', ...codes].join('\n');
}
