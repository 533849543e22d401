import { readFile } from 'node:fs/promises';
import { kept, type Outcome } from '../core/outcome.js';
import { type AuditedFile, auditFile } from '../stages/audit/index.js';
import { isAllowedText } from '../stages/cover/index.js';
import type { AuditJob } from './picture-jobs.js';
import { searchTexts } from './search-picture.js';

/** Reads a finished file again, with the text finder this child keeps open. */
export async function auditOne(job: AuditJob, pixelLimit: number): Promise<Outcome<AuditedFile>> {
  const { path, name, terms, kept: texts = [] } = job;
  const bytes = await readFile(path);
  return kept(
    await auditFile({ bytes, name, terms, kept: texts }, { searchTexts, isAllowedText, pixelLimit }),
  );
}
