import type { Practice } from '../practice/index.js';
import { type OnFile, readOnFile } from './on-file.js';
import { Trouble } from './trouble.js';

/** Everything on file, or null while the private records are locked; other trouble ends the command. */
export async function readUnlocked(practice: Practice): Promise<OnFile | null> {
  try {
    return await readOnFile(practice);
  } catch (error) {
    if (error instanceof Trouble && error.reason.code === 'locked') return null;
    throw error;
  }
}
