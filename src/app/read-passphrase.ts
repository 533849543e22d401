import { readFile } from 'node:fs/promises';

/** The first line of a file, without its line break; null when there is none to read. */
export async function readPassphraseFile(path: string): Promise<string | null> {
  const text = await readFile(path, 'utf8').catch(() => '');
  return text.split(/\r?\n/)[0] || null;
}
