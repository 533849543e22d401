import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Practice } from '../../practice/index.js';
import { readTemplate, type Template } from '../../stages/sheet/index.js';
import type { ErrorReport } from '../report.js';

export type FoundTemplate =
  | { kind: 'found'; template: Template }
  | { kind: 'refused'; errors: ErrorReport[] };

/** Two levels up from dist/app/sheet and src/app/sheet alike is the program's own folder. */
const OWN_TEMPLATES = new URL('../../../templates/', import.meta.url);

/** Letters, digits and hyphens only: a name can never lead out of the templates folder. */
const NAME = /^[a-z0-9][a-z0-9-]{0,39}$/;

/** A template by name: the practice's own first, then those that come with the program. */
export async function findTemplate(practice: Practice, name: string): Promise<FoundTemplate> {
  const file = `${name}.yaml`;
  if (!NAME.test(name)) {
    return refused(file, 'A template name has small letters, digits and hyphens only.');
  }
  for (const path of [join(practice.paths.templates, file), new URL(file, OWN_TEMPLATES)]) {
    const text = await readFile(path, 'utf8').catch(() => null);
    if (text !== null) return checkTemplate(text, file);
  }
  return refused(file, `There is no template "${name}". Look into the folder templates of the practice.`);
}

/** A template's text, checked against its schema. */
export function checkTemplate(text: string, file: string): FoundTemplate {
  const read = readTemplate(text);
  return read.ok
    ? { kind: 'found', template: read.template }
    : { kind: 'refused', errors: read.errors.map((error) => ({ file, ...error, ...inPlainWords(error) })) };
}

/** The schema's own words for a file that is empty or one long sentence say nothing to a person. */
const inPlainWords = ({ field, sentence }: { field: string; sentence: string }): { sentence?: string } =>
  field === '' && sentence.startsWith('Invalid input')
    ? {
        sentence:
          'This is no template: it must hold keys such as template, audience and blocks. Copy templates/referrer.yaml and change the copy.',
      }
    : {};

const refused = (file: string, sentence: string): FoundTemplate => ({
  kind: 'refused',
  errors: [{ file, line: 1, column: 1, field: '', sentence }],
});
