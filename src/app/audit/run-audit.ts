import { readFile, realpath } from 'node:fs/promises';
import { relative, resolve } from 'node:path';
import { loadCodes, type Practice } from '../../practice/index.js';
import { type AuditTerms, NO_TERMS } from '../../stages/audit/index.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import { readUnlocked } from '../unlocked.js';
import { type Audit, auditPaths } from './index.js';
import { termsOfPractice } from './terms.js';

export type AuditRun =
  | { kind: 'read'; audit: Audit; notes: string[] }
  /** Nobody gave the key, so nobody knows what to search for. */
  | { kind: 'locked'; audit: Audit; sentence: string }
  | { kind: 'refused'; sentence: string };

/** The command: with a practice its patients are searched for, without one only the lines of --terms, and kinds. */
export async function runAudit(
  practice: Practice | null,
  ports: Ports,
  paths: readonly string[],
  termsFile: string | null,
): Promise<AuditRun> {
  const lines = termsFile === null ? [] : await readLines(termsFile);
  if (lines === null)
    return { kind: 'refused', sentence: 'The file of --terms could not be read. Check its path.' };
  const known = practice === null ? NO_TERMS : await knownTerms(practice);
  if (known === null) return LOCKED;
  const terms: AuditTerms = { ...known, lines };
  const timeless = practice === null ? [] : [practice.paths.cases, practice.paths.outbox];
  const audit = await auditPaths(paths, terms, ports, { timeless });
  return { kind: 'read', audit, notes: await notesOn(practice, paths, lines) };
}

const LOCKED: AuditRun = {
  kind: 'locked',
  audit: { clean: false, hits: [], possible: [], unread: [{ file: 'private', reason: { code: 'locked' } }] },
  sentence:
    'The private records are locked, so nobody knows which names to search for, and nothing was read. Unlock them with the key file or the passphrase, then audit again.',
};

async function knownTerms(practice: Practice): Promise<AuditTerms | null> {
  const onFile = await readUnlocked(practice);
  if (onFile === null) return null;
  const codes = orTrouble(await loadCodes(practice));
  const shareCodes = Object.values(codes.cases).flatMap((shares) => Object.values(shares));
  return termsOfPractice(practice, onFile, shareCodes);
}

async function readLines(file: string): Promise<string[] | null> {
  const text = await readFile(file, 'utf8').catch(() => null);
  return text === null ? null : text.split(/\r?\n/).filter((line) => line.trim() !== '');
}

/** What a person should know about how far this audit reaches. */
async function notesOn(
  practice: Practice | null,
  paths: readonly string[],
  lines: string[],
): Promise<string[]> {
  if (practice === null)
    return lines.length > 0
      ? []
      : [
          'No practice and no --terms: only kinds were looked for (dates, numbers, addresses and the like), no names.',
        ];
  const real = await Promise.all(paths.map((path) => realpath(path).catch(() => resolve(path))));
  const inside = async (folder: string): Promise<boolean> => {
    const home = await realpath(folder).catch(() => folder);
    return real.some(
      (path) => !relative(home, path).startsWith('..') || !relative(path, home).startsWith('..'),
    );
  };
  const hidden = (await inside(practice.paths.private)) || (await inside(practice.paths.inbox));
  return hidden
    ? [
        'private/ and inbox/ hold originals and names, so hits there are to be expected; nothing of it may leave.',
      ]
    : [];
}
