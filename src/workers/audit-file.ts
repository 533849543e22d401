import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname } from 'node:path';
import { kept, type Outcome } from '../core/outcome.js';
import { type AuditedFile, auditFile } from '../stages/audit/index.js';
import { isAllowedText } from '../stages/cover/index.js';
import type { AuditJob } from './picture-jobs.js';
import { searchTexts } from './search-picture.js';

const pdfReaderFolder = dirname(createRequire(import.meta.url).resolve('pdfjs-dist/package.json'));

/** Reads a finished file again, with the text finder this child keeps open. */
export async function auditOne(job: AuditJob, pixelLimit: number): Promise<Outcome<AuditedFile>> {
  const { path, name, terms, kept: texts = [] } = job;
  const bytes = await readFile(path);
  return kept(
    await auditFile(
      { bytes, name, terms, kept: texts },
      { searchTexts, isAllowedText, pixelLimit, pdfReaderFolder },
    ),
  );
}
