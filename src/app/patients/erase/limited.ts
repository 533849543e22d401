import { readdir } from 'node:fs/promises';
import type { Practice } from '../../../practice/index.js';

/**
 * Display pictures under private/limited, those of earlier revisions too: a face that no visit shows any more is
 * nobody's, can be made again from its original, and may be this patient's.
 */
export async function limitedIn({ paths }: Practice): Promise<string[]> {
  const names = await readdir(paths.limited).catch(() => []);
  return names.flatMap((name) => /^([0-9a-f]{64})\./.exec(name)?.[1] ?? []);
}
