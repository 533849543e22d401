import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { loadFound, PRIVATE_FILE_MODE, type Practice, writeAtomically } from '../../practice/index.js';
import { holds, isSigned } from '../../stages/cover/kept-texts.js';
import type { FiledPicture } from '../../stages/record/index.js';
import type { Searched } from '../../workers/index.js';
import { type Audit, auditPaths, termsOfCase } from '../audit/index.js';
import { wishKey } from '../intake/sort-pictures.js';
import { type OnFile, visitsOfCase } from '../on-file.js';
import type { Ports } from '../ports.js';
import { orTrouble } from '../trouble.js';
import type { Content } from './outbox.js';

/** The case and what of it would leave. */
export interface AuditedContents {
  onFile: OnFile;
  code: string;
  shareCode: string;
  contents: readonly Content[];
}

/**
 * Audits the very bytes that would leave, under the very names: they are laid into private/tmp and read again there.
 * Hits name a file as the outbox would.
 */
export async function auditContents(
  practice: Practice,
  ports: Ports,
  { onFile, code, shareCode, contents }: AuditedContents,
): Promise<Audit> {
  const top = join(practice.paths.tmp, `audit-${Buffer.from(ports.random(8)).toString('hex')}`);
  const folder = join(top, shareCode);
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    for (const { name, bytes } of contents) {
      const how = { mode: PRIVATE_FILE_MODE, constantTimes: true };
      orTrouble(await writeAtomically(join(folder, name), bytes, how));
    }
    const terms = termsOfCase(practice, onFile, code, [shareCode]);
    const kept = await keptTexts(practice, onFile, code);
    const paths = contents.map(({ name }) => join(folder, name));
    const audit = await auditPaths(paths, terms, ports, { kept });
    const named = <T extends { file: string }>(list: T[]): T[] =>
      list.map((one) => ({ ...one, file: one.file.split(/[/\\]/).at(-1) ?? one.file }));
    return {
      clean: audit.clean,
      hits: named(audit.hits),
      possible: named(audit.possible),
      unread: named(audit.unread),
    };
  } finally {
    await rm(top, { recursive: true, force: true });
  }
}

/** What the search read in the boxes that a named person keeps. */
async function keptTexts(practice: Practice, onFile: OnFile, code: string): Promise<string[]> {
  const pictures = visitsOfCase(onFile, code).flatMap((visit) => visit.pictures);
  const texts = await Promise.all(pictures.map((picture) => keptOf(practice, picture)));
  return [...new Set(texts.flat())];
}

async function keptOf(practice: Practice, { sha256, entry, shown }: FiledPicture): Promise<string[]> {
  const keeps = (entry?.keep ?? []).filter(isSigned);
  if (!shown?.searched || keeps.length === 0) return [];
  const { radiograph, flipped: flip, frame = 1 } = shown;
  const key = `${wishKey(sha256, { radiograph, flip, frame })} ${shown.searched}`;
  const found = orTrouble(await loadFound(practice, key)) as unknown as Searched | null;
  return (found?.texts ?? [])
    .filter(({ box }) => keeps.some((keep) => holds(keep.box, box)))
    .map(({ text }) => text);
}
