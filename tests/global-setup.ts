import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';

/**
 * Builds dist/ once before any test: child processes run compiled JavaScript. Type errors do not stop the tests,
 * since the type check has its own step and the files are written all the same.
 */
export default function buildOnce(): void {
  const root = new URL('..', import.meta.url).pathname;
  const tsc = join(dirname(createRequire(import.meta.url).resolve('typescript/package.json')), 'bin/tsc');
  const built = spawnSync(process.execPath, [tsc, '-p', root], { cwd: root, encoding: 'utf8' });
  if (built.status !== 0) console.warn(built.stdout + built.stderr);
  if (!existsSync(join(root, 'dist/workers/child.js')))
    throw new Error('dist/workers/child.js was not built');
}
