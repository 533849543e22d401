import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { initPractice, openPractice, type Practice } from '../../src/practice/index.js';

/** A fresh folder that is gone after the test. */
export function freshFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'practice-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export async function freshPractice(): Promise<Practice> {
  const root = join(freshFolder(), 'practice');
  const made = await initPractice(root);
  if (!made.ok) throw new Error(made.sentence);
  return reopen(root);
}

export async function reopen(root: string): Promise<Practice> {
  const opened = await openPractice(root);
  if (!opened.ok) throw new Error(opened.errors[0]?.sentence);
  return opened.practice;
}

export function keptValue<T>(outcome: { kind: string; value?: T; reason?: { code: string } }): T {
  if (outcome.kind !== 'kept') throw new Error(`not kept: ${outcome.reason?.code}`);
  return outcome.value as T;
}

export const codeOf = (outcome: { kind: string; reason?: { code: string } }): string | undefined =>
  outcome.reason?.code;

/** Whether a command works here (root only: mount, mknod). Where CI is set it must. */
export function permits(command: string, ...args: string[]): boolean {
  try {
    execFileSync(command, args, { stdio: 'ignore' });
    return true;
  } catch (error) {
    if (process.env['CI'] && process.getuid?.() === 0) throw error;
    return false;
  }
}

const COMPILED = new URL('../../dist/practice/index.js', import.meta.url).href;

/** A Node process of its own. `program` is JavaScript; `p` is the practice room, `say` prints a line. */
export function startProcess(program: string, ...args: string[]) {
  const text = `import * as p from ${JSON.stringify(COMPILED)};
    import { writeSync } from 'node:fs';
    const say = (line) => writeSync(1, line + '\\n');
    const args = process.argv.slice(1);
    ${program}`;
  const child = spawn(process.execPath, ['--input-type=module', '-e', text, '--', ...args], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const lines: string[] = [];
  const waiting: { count: number; go: () => void }[] = [];
  let rest = '';
  child.stdout.on('data', (chunk: Buffer) => {
    const parts = (rest + chunk.toString()).split('\n');
    rest = parts.pop() ?? '';
    lines.push(...parts);
    for (const wait of waiting) if (lines.length >= wait.count) wait.go();
  });
  const ended = new Promise<number | null>((done) => child.on('close', (code) => done(code)));
  /** Resolves once so many lines were said, or the process has ended. */
  const said = (count: number): Promise<unknown> =>
    lines.length >= count
      ? Promise.resolve()
      : Promise.race([ended, new Promise<void>((go) => waiting.push({ count, go }))]);
  return { child, lines, ended, said };
}
