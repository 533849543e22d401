import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTemplate } from '../../../src/stages/sheet/index.js';
import { referrer, templateText } from './given/sheets.js';

const errorsOf = (text: string) => {
  const read = readTemplate(text);
  return read.ok ? [] : read.errors;
};

describe('a template', () => {
  it('that comes with the program is read, and is for the referrer', () => {
    expect(referrer().audience).toBe('referrer');
    expect(referrer().blocks.map(({ block }) => block)).toContain('radiographs');
  });

  it('with an unknown block is refused with the line and the blocks there are', () => {
    const [error] = errorsOf(
      'template: mine\naudience: mine\nblocks:\n  - block: title\n  - block: radiograph\n',
    );
    expect(error).toMatchObject({ line: 5, column: 12, field: 'blocks[1].block' });
    expect(error?.sentence).toContain('radiographs');
  });

  it('with an unknown key is refused at the key', () => {
    const [error] = errorsOf('template: mine\naudience: mine\nblocks:\n  - block: title\n    colour: red\n');
    expect(error).toMatchObject({ line: 5, column: 5, field: 'blocks[0].colour' });
    expect(error?.sentence).toContain('"colour"');
  });

  it('with several mistakes names them all, in order of lines', () => {
    const errors = errorsOf(
      templateText.replace('audience: referrer', 'audience: 7').replace('    pick: story', '    pick: best'),
    );
    expect(errors).toHaveLength(2);
    expect(errors[0]!.field).toBe('audience');
    expect(errors[1]!.field).toMatch(/^blocks\[\d+\]\.pick$/);
    expect(errors[0]!.line).toBeLessThan(errors[1]!.line);
  });

  it('that is not YAML is refused with a line', () => {
    expect(errorsOf('template: [\nblocks')[0]!.sentence).toContain('not valid YAML');
  });

  it('never throws, whatever the text', () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.json()), (text) => {
        const read = readTemplate(text);
        if (!read.ok) for (const error of read.errors) expect(error.line).toBeGreaterThan(0);
      }),
    );
  });
});
