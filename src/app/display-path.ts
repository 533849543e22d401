import { extname, join } from 'node:path';
import type { Practice } from '../practice/index.js';

/** Where a display picture lies: under cases/, or in private/ when a person limited who may see it. */
export function displayPath(
  practice: Practice,
  code: string,
  { file, limitedTo }: { file: string; limitedTo?: string[] | undefined },
  sha256: string | undefined,
): string {
  return limitedTo
    ? join(practice.paths.limited, `${sha256}${extname(file)}`)
    : join(practice.paths.cases, code, file);
}
