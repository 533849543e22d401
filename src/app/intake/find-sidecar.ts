import type { Reason } from '../../core/reasons.js';
import { readSteadily, type ScannedFile } from '../../practice/index.js';

/** The bytes of visit.yaml, or why there is none to read. */
export type FoundSidecar =
  | { kind: 'read'; name: string; bytes: Uint8Array; sha256: string }
  | { kind: 'none'; reason: Reason };

const LIMIT_BYTES = 8 * 1024 * 1024;

export const isSidecar = ({ name }: { name: string }): boolean => /^visit\.ya?ml$/i.test(name);

/** What editors and systems make of the name: visit.yaml.txt, visit (1).yaml, visit.yaml.bak. */
export const looksLikeSidecar = ({ name }: ScannedFile): boolean => /^visit[^/]*\.ya?ml(\.\w+)?$/i.test(name);

/**
 * Reads the sidecar of a visit folder. Two that differ are never chosen between; one that is there but cannot be
 * read is said to be so, and is no picture.
 */
export async function findSidecar(
  sidecars: readonly ScannedFile[],
  others: readonly ScannedFile[],
): Promise<FoundSidecar> {
  if (sidecars.length === 0) return none(whyNone(others));
  const read = await Promise.all(sidecars.map(readOne));
  const [first] = read;
  if (read.length > 1 && !read.every((one) => one.kind === 'read' && sameBytes(one, first))) {
    return none({ code: 'two-sidecars', names: sidecars.map(({ name }) => name) });
  }
  return first as FoundSidecar;
}

const none = (reason: Reason): FoundSidecar => ({ kind: 'none', reason });

const sameBytes = (one: FoundSidecar, other: FoundSidecar | undefined): boolean =>
  one.kind === 'read' && other?.kind === 'read' && one.sha256 === other.sha256;

function whyNone(others: readonly ScannedFile[]): Reason {
  const alike = others.find(looksLikeSidecar);
  if (alike) return { code: 'no-sidecar', instead: alike.name };
  return others.length === 0 ? { code: 'no-sidecar', empty: true } : { code: 'no-sidecar' };
}

async function readOne(file: ScannedFile): Promise<FoundSidecar> {
  if (file.kind === 'refused') return none(unread(file.reason));
  const read = await readSteadily(file.pathBytes, file.print, LIMIT_BYTES);
  if (read.kind !== 'kept') return none(unread(read.reason));
  return { kind: 'read', name: file.name, ...read.value };
}

function unread({ code }: Reason): Reason {
  const what = code === 'empty-file' ? 'empty' : code === 'not-a-file' ? 'no-plain-file' : code;
  const known = what === 'empty' || what === 'no-plain-file' || what === 'changing' || what === 'too-large';
  return { code: 'sidecar-unread', what: known ? what : 'unreadable' };
}
