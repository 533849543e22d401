import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { Practice } from '../../practice/index.js';
import { planSheet } from '../../stages/sheet/index.js';
import { caseOf, readOnFile } from '../on-file.js';
import type { Ports } from '../ports.js';
import type { ErrorReport } from '../report.js';
import { asOnlyWriter } from '../session.js';
import { readCase } from '../standing-case.js';
import { writeCoverSlip } from './cover-slip.js';
import { checkTemplate, findTemplate } from './find-template.js';
import { type MadeSheet, makeSheet, type SheetWish } from './make-sheet.js';

/** Draws a sheet of a case from what is kept, whatever is held. */
export async function drawCaseSheet(
  practice: Practice,
  ports: Ports,
  code: string,
  wish: SheetWish,
): Promise<MadeSheet | { kind: 'unknown-case' } | { kind: 'nothing-kept' }> {
  return asOnlyWriter(practice, 'sheet', async () => {
    const onFile = await readOnFile(practice);
    if (!caseOf(onFile, code)) return { kind: 'unknown-case' };
    const standing = readCase(onFile, code);
    const found = await findTemplate(practice, wish.template);
    // A picture may be limited to the audience of this very template.
    const record = found.kind === 'found' ? standing.recordFor(found.template.audience) : null;
    if (record?.pictures.length === 0) return { kind: 'nothing-kept' };
    const made = await makeSheet(practice, ports, standing, wish);
    if (made.kind === 'made') await writeCoverSlip(practice, ports, onFile, standing.record, made.shareCode);
    return made;
  });
}

export type CheckedTemplate =
  | { kind: 'fits'; pages: number }
  | { kind: 'refused'; errors: ErrorReport[] }
  | { kind: 'unknown-case' };

/** Checks a template file against its schema and lays it out with a case; writes nothing. */
export async function checkTemplateFile(
  practice: Practice,
  ports: Ports,
  code: string,
  file: string,
): Promise<CheckedTemplate> {
  const name = basename(file);
  const text = await readFile(file, 'utf8').catch(() => null);
  if (text === null) return refused(name, 'The file could not be read. Check its path.');
  const found = checkTemplate(text, name);
  if (found.kind === 'refused') return found;
  const onFile = await readOnFile(practice);
  if (!caseOf(onFile, code)) return { kind: 'unknown-case' };
  const { record } = readCase(onFile, code);
  const fonts = await ports.fonts();
  const { settings } = practice;
  // A stand-in of the right length: a real share code is drawn only for a sheet that is made.
  const planned = await planSheet({ template: found.template, record, shareCode: '000000', settings, fonts });
  if (planned.ok) return { kind: 'fits', pages: planned.plan.pages.length };
  return { kind: 'refused', errors: planned.problems.flatMap((sentence) => refused(name, sentence).errors) };
}

const refused = (file: string, sentence: string): { kind: 'refused'; errors: ErrorReport[] } => ({
  kind: 'refused',
  errors: [{ file, line: 1, column: 1, field: '', sentence }],
});
