import { readFile } from 'node:fs/promises';
import { basename, resolve } from 'node:path';
import { type Practice, SEALED_SUFFIX, unsealBytes } from '../../practice/index.js';
import { Trouble } from '../trouble.js';
import { makeFolderOutside, writeNewBelow } from './write-outside.js';

export type OpenedFile =
  | { kind: 'refused'; sentence: string }
  | { kind: 'opened'; folder: string; name: string };

/** Writes a readable copy of an encrypted file of private/ (a cover slip, say) into a new folder outside of the practice. */
export async function openFile(practice: Practice, file: string, folder: string): Promise<OpenedFile> {
  const refuse = (sentence: string): OpenedFile => ({ kind: 'refused', sentence });
  const bytes = await readFile(resolve(file)).catch(() => null);
  if (bytes === null) return refuse('The file cannot be read. Check its path.');
  const opened = await unsealBytes(practice, bytes, basename(file));
  if (opened.kind !== 'kept') {
    if (opened.reason.code === 'locked') throw new Trouble(opened.reason);
    return refuse('The file is damaged, or was encrypted for another practice; nothing was written.');
  }
  if (opened.value === null) return refuse('That file is not encrypted; open it as it is.');
  const made = await makeFolderOutside(practice, folder);
  if ('sentence' in made) return refuse(made.sentence);
  const name = basename(file).endsWith(SEALED_SUFFIX)
    ? basename(file).slice(0, -SEALED_SUFFIX.length)
    : basename(file);
  await writeNewBelow(made.path, name, opened.value);
  return { kind: 'opened', folder: made.path, name };
}
