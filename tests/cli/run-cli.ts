import { spawn } from 'node:child_process';

const CLI = new URL('../../bin/scopeleaf.js', import.meta.url).pathname;

export interface Ran {
  exit: number;
  stdout: string;
  stderr: string;
}

/** Runs the compiled command as a person would, without a terminal. */
export function scopeleaf(
  args: readonly string[],
  options: { cwd?: string; env?: Record<string, string> } = {},
): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const { SCOPELEAF_PRACTICE: _, ...env } = process.env;
    const child = spawn(process.execPath, [CLI, ...args], {
      cwd: options.cwd,
      env: { ...env, ...options.env },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (data) => {
      stdout += data;
    });
    child.stderr.on('data', (data) => {
      stderr += data;
    });
    child.on('error', reject);
    child.on('close', (code, signal) => resolve({ exit: code ?? (signal ? 128 : -1), stdout, stderr }));
  });
}
