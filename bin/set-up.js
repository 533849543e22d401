#!/usr/bin/env node
// Makes a fresh checkout work: installs what the lock file names when it is not there, then builds.
// Plain JavaScript with nothing imported from node_modules, since it runs before there is one.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const stamp = join(root, 'node_modules', '.scopeleaf-installed');

const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 9)) {
  console.error(`Scopeleaf needs Node 20.9 or newer; this is Node ${process.versions.node}.`);
  process.exit(1);
}

/** The lock file's digest: node_modules is up to date when it was installed from exactly these bytes. */
function lockDigest() {
  return createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
}

function run(command, args) {
  const done = spawnSync(command, args, {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (done.status !== 0) process.exit(done.status ?? 1);
}

/** Two set-ups at once would empty each other's node_modules: the second waits for the first. */
const gate = join(
  tmpdir(),
  `scopeleaf-set-up-${createHash('sha256').update(root).digest('hex').slice(0, 12)}`,
);
const STALE_MS = 10 * 60_000;

function enter() {
  for (;;) {
    try {
      mkdirSync(gate);
      process.on('exit', () => rmSync(gate, { recursive: true, force: true }));
      return;
    } catch (error) {
      if (error.code !== 'EEXIST') throw error;
    }
    const madeMs = statSync(gate, { throwIfNoEntry: false })?.mtimeMs ?? Date.now();
    if (Date.now() - madeMs > STALE_MS) rmSync(gate, { recursive: true, force: true });
    // A plain wait: there is nothing else to do meanwhile.
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 200);
  }
}

enter();
for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(1));
const installed = existsSync(stamp) ? readFileSync(stamp, 'utf8').trim() : '';
if (installed !== lockDigest()) {
  console.error('Installing what package-lock.json names ...');
  run('npm', ['ci', '--no-fund', '--no-audit', '--loglevel=error']);
  writeFileSync(stamp, `${lockDigest()}\n`);
}
// A rebuild takes about a second, and a stale build would test yesterday's code.
run(process.execPath, [join(root, 'node_modules', 'typescript', 'bin', 'tsc'), '-p', root]);
