import { createHash } from 'node:crypto';
import { join } from 'node:path';
import type { Outcome } from '../core/outcome.js';
import type { Practice } from './practice-paths.js';
import { isObject, readRecord, writeRecord } from './record-file.js';

/**
 * What finders saw in a picture, kept under private/cache so that equal bytes are searched once. Private, since a
 * found text may be a name. It may be deleted at any time; then the picture is searched again.
 * @param key everything the search depends on: the picture's bytes, how it is shown, the finders' versions
 */
export async function loadFound(
  practice: Practice,
  key: string,
): Promise<Outcome<Record<string, unknown> | null>> {
  return readRecord(practice, pathOf(practice, key), 'cache', isObject);
}

export const saveFound = (
  practice: Practice,
  key: string,
  found: Record<string, unknown>,
): Promise<Outcome<null>> => writeRecord(practice, pathOf(practice, key), found);

const pathOf = (practice: Practice, key: string): string =>
  join(practice.paths.cache, `found-${createHash('sha256').update(key).digest('hex')}.json`);
