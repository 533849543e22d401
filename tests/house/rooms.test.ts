import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { describe, expect, it } from 'vitest';
import { importsOf, ROOMS, type Violation, violationsOf } from './rooms.js';

const SRC = new URL('../../src', import.meta.url).pathname;

function sourceFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.ts'))
    .map((entry) => join(entry.parentPath, entry.name));
}

function violationsIn(files: readonly string[]): Violation[] {
  return files.flatMap((file) => violationsOf(relative(SRC, file), importsOf(readFileSync(file, 'utf8'))));
}

describe('the import rules of the rooms', () => {
  it('hold in every source file', () => {
    const files = sourceFiles(SRC);
    expect(files.length).toBeGreaterThan(60);
    expect(violationsIn(files)).toEqual([]);
  });

  it('see files in every room', () => {
    const seen = new Set(sourceFiles(SRC).map((file) => relative(SRC, file).split('/')[0]));
    for (const room of Object.keys(ROOMS)) {
      // Rooms that a later step of the work fills.
      if (room === 'finders' || room === 'desk') continue;
      expect(seen, `no source file in ${room}/`).toContain(room);
    }
  });

  it.each([
    ['core/a.ts', "import { readFile } from 'node:fs/promises';", 'disk'],
    ['core/a.ts', "import sharp from 'sharp';", 'package'],
    ['core/a.ts', "import { x } from '../trade/teeth.js';", 'room'],
    ['trade/a.ts', "export { x } from '../practice/index.js';", 'room'],
    ['stages/strip/a.ts', "import { x } from '../render/index.js';", 'room'],
    ['stages/label/a.ts', "const y = await import('node:child_process');", 'disk'],
    ['formats/a.ts', "import type { X } from '../stages/strip/index.js';", 'room'],
    ['app/a.ts', "import { PDFDocument } from 'pdf-lib';", 'package'],
    ['cli/a.ts', "import { x } from '../practice/index.js';", 'room'],
    ['workers/a.ts', "import { x } from '../app/index.js';", 'room'],
    ['unheard/a.ts', "import { x } from '../core/a.js';", 'room'],
  ])('catch bad code: %s with %s', (file, source, kind) => {
    expect(violationsOf(file, importsOf(source)).map((violation) => violation.kind)).toContain(kind);
  });

  it('let good code pass', () => {
    const source = "import { z } from 'zod';\nimport type { Reason } from '../../core/reasons.js';";
    expect(violationsOf('stages/label/a.ts', importsOf(source))).toEqual([]);
  });
});
