import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { it } from 'vitest';

const isInstalled = (tool: string): boolean => spawnSync(tool, ['--version']).error === undefined;

/** A test that needs a program from outside: left out with its reason on a user's machine, a failure under CI. */
export function withPeer(tool: string, name: string, test: () => Promise<void>): void {
  if (isInstalled(tool) || process.env['CI']) it(name, test);
  else it(`${name} (not run: ${tool} is not installed)`, (context) => context.skip());
}

/** Writes bytes to a fresh temporary file and returns its path. */
export function inFile(bytes: Uint8Array, name = 'sheet.pdf'): string {
  const path = join(mkdtempSync(join(tmpdir(), 'sheet-')), name);
  writeFileSync(path, bytes);
  return path;
}

export const tool = (name: string, ...args: string[]): string =>
  execFileSync(name, args, { encoding: 'utf8', maxBuffer: 1 << 28 });
