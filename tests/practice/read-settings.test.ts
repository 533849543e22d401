import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { settingsSchema } from '../../src/core/settings.js';
import { readSettings } from '../../src/practice/read-settings.js';

const errorsOf = (text: string) => {
  const read = readSettings(text);
  return read.ok ? [] : read.errors;
};

describe('reading practice.yaml', () => {
  it('gives every default for an empty file or one of comments only', () => {
    for (const text of ['', '# nothing\n', '\uFEFF# a byte order mark\r\n', '{}', 'null']) {
      expect(readSettings(text)).toEqual({ ok: true, settings: settingsSchema.parse({}) });
    }
  });

  it('names an unknown key with its place and the key it was meant to be', () => {
    expect(errorsOf('# one\npaper: A4\nnotaton: fdi\n')).toEqual([
      {
        file: 'practice.yaml',
        line: 3,
        column: 1,
        field: 'notaton',
        sentence: 'notaton is not a setting. Did you mean "notation"?',
      },
    ]);
    expect(errorsOf('xyzzy: 1\n')[0]?.sentence).toContain('Allowed: notation, paper');
    expect(errorsOf('sources:\n  - {source: A, ofset: 3}\n')).toMatchObject([
      { line: 2, column: 17, field: 'sources[0].ofset', sentence: expect.stringContaining('"offset"') },
    ]);
  });

  it('names all mistakes at once, each at its value', () => {
    const text =
      'quiet: soon\npaper: A5\nminimumText: 4\nsources:\n  - corrected: yes please\n    source: B\n';
    expect(errorsOf(text).map(({ line, column, field }) => [line, column, field])).toEqual([
      [2, 8, 'paper'],
      [1, 8, 'quiet'],
      [5, 16, 'sources[0].corrected'],
      [3, 14, 'minimumText'],
    ]);
    expect(errorsOf('paper: A5')[0]?.sentence).toBe('paper must be one of: A4, Letter.');
    expect(errorsOf('quiet: soon')[0]?.sentence).toBe('quiet must be a number.');
  });

  it('refuses broken YAML, a key twice, a tab, two documents, an alias bomb and a list', () => {
    expect(errorsOf('paper: A4\nquiet: [1\n')[0]).toMatchObject({ line: 3 });
    expect(errorsOf('paper: A4\npaper: Letter\n')).toMatchObject([
      { line: 2, sentence: expect.stringContaining('twice') },
    ]);
    expect(errorsOf('sources:\n\t- {source: A}\n')[0]?.sentence).toContain('tab');
    expect(errorsOf('paper: A4\n---\npaper: A4\n')[0]?.sentence).toContain('one document');
    const bomb = `a: &a [x, x]\n${Array.from({ length: 30 }, (_, i) => `b${i}: &b${i} [*${i ? `b${i - 1}` : 'a'}, *${i ? `b${i - 1}` : 'a'}]`).join('\n')}`;
    expect(errorsOf(bomb)).toMatchObject([{ sentence: expect.stringContaining('aliases') }]);
    expect(errorsOf('- paper\n')).toMatchObject([{ line: 1, column: 1 }]);
    expect(errorsOf('just words')).toMatchObject([{ line: 1, column: 1 }]);
  });

  it('answers any text with settings or with errors that have a place', () => {
    const line = fc.oneof(
      fc.string(),
      fc.constantFrom(
        'paper: A4',
        'quiet: 3',
        'sources:',
        ' - {source: x',
        '? [a]',
        '!!binary x: y',
        '&a *a',
        '%YAML 1.3',
      ),
    );
    fc.assert(
      fc.property(fc.array(line, { maxLength: 8 }), (lines) => {
        const read = readSettings(lines.join('\n'));
        if (read.ok) return settingsSchema.safeParse(read.settings).success;
        return (
          read.errors.length > 0 &&
          read.errors.every((e) => e.line >= 1 && e.column >= 1 && e.sentence !== '')
        );
      }),
    );
  });
});
