/**
 * Finished files read again, each in a child process. In come paths and terms; out go hits, places to look at, and what
 * could not be read, which is never clean. Links are not followed inside a folder.
 */
import type { Reason } from '../../core/reasons.js';
import { type AuditHit, type AuditTerms, nameReader } from '../../stages/audit/index.js';
import { inParallel } from '../in-parallel.js';
import type { Ports } from '../ports.js';
import { type AuditedPath, listFiles } from './list-files.js';

export { absentPaths } from './list-files.js';
export { termsOfCase, termsOfPractice } from './terms.js';

export interface Audit {
  clean: boolean;
  hits: AuditHit[];
  /** Listed only; changes nothing. */
  possible: AuditHit[];
  /** What nobody could read: never clean. */
  unread: UnreadFile[];
}

export interface UnreadFile {
  file: string;
  /** Place inside the file; absent for the whole of it. */
  where?: string;
  reason: Reason;
}

export interface AuditOptions {
  /** Texts that a person decided to keep on pictures (`keep:` in the sidecar), as the search read them. */
  kept?: readonly string[];
  /** Folders in which a file time other than the constant one is a hit: cases/ and outbox/ of a practice. */
  timeless?: readonly string[];
}

/** A file is read as a whole. */
const LIMIT_BYTES = 1_000_000_000;

/** @param paths files and folders, as a person names them; hits begin with them */
export async function auditPaths(
  paths: readonly string[],
  terms: AuditTerms,
  ports: Ports,
  options: AuditOptions = {},
): Promise<Audit> {
  const names = nameReader(terms);
  const { files, unread, hits: named } = await listFiles(paths, names, options.timeless ?? []);
  let done = 0;
  const read = await inParallel(files, ports.workersAtOnce, async (file) => {
    const audited = await auditOne(file, terms, ports, options.kept ?? []);
    done += 1;
    ports.progress(done, files.length, 'reading again');
    return audited;
  });
  const hits = [...named, ...read.flatMap((one) => one.hits)];
  const all = [...unread, ...read.flatMap((one) => one.unread)];
  const possible = read.flatMap((one) => one.possible);
  return { clean: hits.length === 0 && all.length === 0, hits, possible, unread: all };
}

async function auditOne(
  { path, shown, bytes }: AuditedPath,
  terms: AuditTerms,
  ports: Ports,
  kept: readonly string[],
): Promise<Omit<Audit, 'clean'>> {
  const nothing = { hits: [], possible: [] };
  if (bytes > LIMIT_BYTES) {
    const reason = { code: 'too-large', bytes, limitBytes: LIMIT_BYTES } as const;
    return { ...nothing, unread: [{ file: shown, reason }] };
  }
  const outcome = await ports.workers.audit({ path, name: shown, terms, kept });
  if (outcome.kind !== 'kept') return { ...nothing, unread: [{ file: shown, reason: outcome.reason }] };
  const { hits, possible, unread } = outcome.value;
  return {
    hits,
    possible,
    unread: unread.map(({ where, reason }) => ({ file: shown, ...(where === '' ? {} : { where }), reason })),
  };
}
