import type { KeySource } from '../app/unlock.js';

let named: string | undefined;

/** What --key-file said in this run; undefined when it was not given. */
export const nameKeyFile = (path: string | undefined): void => {
  named = path;
};

export const namedKeyFile = (): string | undefined => named;

/**
 * Where the key may come from: --key-file, $SCOPELEAF_KEY_FILE, $SCOPELEAF_PASSPHRASE_FILE, the key file that
 * practice.yaml names, the person at the terminal. Without a terminal nothing prompts.
 */
export function keySource(): KeySource {
  const { env, stdin, stderr } = process;
  const ask = async (again: boolean): Promise<string | null> => {
    const { askHidden } = await import('./ask.js');
    return askHidden(
      again
        ? 'That did not open them. Passphrase (empty: go on locked): '
        : 'Passphrase of the private records (empty: go on locked): ',
    );
  };
  return {
    keyFile: named ?? (env['SCOPELEAF_KEY_FILE'] || undefined),
    passphraseFile: env['SCOPELEAF_PASSPHRASE_FILE'] || undefined,
    ask: stdin.isTTY && stderr.isTTY ? ask : undefined,
  };
}
