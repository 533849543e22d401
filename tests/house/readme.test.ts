import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { COMMANDS } from '../../src/cli/command-list.js';
import { readSidecar } from '../../src/stages/label/index.js';
import { STAGE_WORDS } from '../../src/trade/stages.js';
import { VIEWS } from '../../src/trade/views.js';

const README = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');

describe('the README', () => {
  it('shows a sidecar that is taken without a word', () => {
    const block = /```yaml\n([\s\S]*?)```/.exec(README)?.[1] as string;
    const text = block.replace(/^ {3}/gm, '');
    const read = readSidecar(Buffer.from(text), { file: 'visit.yaml', notation: null });
    expect(read.kind === 'read' && read.documents.flatMap(({ errors }) => errors)).toEqual([]);
    expect(read.kind === 'read' && read.documents[0]?.document.images).toHaveLength(2);
  });

  it('lists every command there is, and no other', () => {
    const listed = [...README.matchAll(/^\| `scopeleaf (\w+)/gm)].map(([, name]) => name);
    expect(listed.sort()).toEqual(COMMANDS.map(({ name }) => name).sort());
  });

  it('names every stage and every view', () => {
    const words = README.slice(README.indexOf('## Words of the sidecar'), README.indexOf('## Commands'));
    for (const word of [...STAGE_WORDS, ...VIEWS]) expect(words.replace(/\s+/g, ' ')).toContain(word);
  });

  it('shows pictures that are there', () => {
    for (const [, file] of README.matchAll(/!\[[^\]]*\]\(([^)]+)\)/g)) {
      const png = readFileSync(new URL(`../../${file}`, import.meta.url));
      // The signature of PNG (ISO/IEC 15948, 5.2).
      expect(png.subarray(0, 8)).toEqual(Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]));
    }
  });
});
