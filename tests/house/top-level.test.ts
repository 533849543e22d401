import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const ROOT = new URL('../..', import.meta.url).pathname;

const ALLOWED = [
  'README.md',
  'DEVELOPERS.md',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'src',
  'bin',
  'tests',
  'sample-images',
  'templates',
];

const tracked = (): string[] =>
  execFileSync('git', ['ls-files', '-z'], { cwd: ROOT, encoding: 'utf8' })
    .split('\0')
    .filter((file) => file !== '');

describe('the checkout', () => {
  it('has nothing at its top but what belongs there', () => {
    const top = new Set(tracked().map((file) => file.split('/')[0] as string));
    expect([...top].filter((name) => !name.startsWith('.') && !ALLOWED.includes(name))).toEqual([]);
  });

  it('keeps registry addresses out of the lock file', () => {
    expect(readFileSync(`${ROOT}/package-lock.json`, 'utf8')).not.toMatch(/"resolved"|https?:\/\/registry/);
  });

  it('names exact versions only', () => {
    const { dependencies, devDependencies } = JSON.parse(readFileSync(`${ROOT}/package.json`, 'utf8'));
    for (const version of Object.values({ ...dependencies, ...devDependencies })) {
      expect(version).toMatch(/^\d+\.\d+\.\d+$/);
    }
  });

  it('says in DEVELOPERS.md why each dependency is there', () => {
    const text = readFileSync(`${ROOT}/DEVELOPERS.md`, 'utf8');
    const { dependencies, devDependencies } = JSON.parse(readFileSync(`${ROOT}/package.json`, 'utf8'));
    for (const name of Object.keys({ ...dependencies, ...devDependencies })) {
      expect(text, `no reason given for ${name}`).toContain(`\`${name}\``);
    }
  });

  it('opens the README with the job, then the two commands', () => {
    const text = readFileSync(`${ROOT}/README.md`, 'utf8');
    const [, job] = text.split(/\n\n/);
    expect(job).toMatch(/^Scopeleaf /);
    expect(text.indexOf('npm run demo')).toBeGreaterThan(0);
    expect(text.indexOf('npm run demo')).toBeLessThan(text.indexOf('npm test'));
    expect(text.indexOf('npm test')).toBeLessThan(1500);
  });
});
