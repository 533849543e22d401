import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { it } from 'vitest';

/** Readers from outside the project, each with the package that brings it. */
const PEERS = {
  dcmdump: { probe: ['dcmdump', '--version'], from: 'dcmtk' },
  dcmftest: { probe: ['dcmftest', '--version'], from: 'dcmtk' },
  dcm2pnm: { probe: ['dcm2pnm', '--version'], from: 'dcmtk' },
  dciodvfy: { probe: ['dciodvfy', '-version'], from: 'dicom3tools' },
  pydicom: {
    probe: ['/usr/bin/python3', '-c', 'import pydicom, numpy'],
    from: 'python3-pydicom, python3-numpy',
  },
} as const;

export type Peer = keyof typeof PEERS;

function isThere(peer: Peer): boolean {
  const [tool, ...args] = PEERS[peer].probe;
  const run = spawnSync(tool, args);
  return run.error === undefined && (peer !== 'pydicom' || run.status === 0);
}

/** A test that needs programs from outside: left out with its reason on a user's machine, a failure under CI. */
export function withPeers(peers: readonly Peer[], name: string, test: () => void | Promise<void>): void {
  const missing = peers.filter((peer) => !isThere(peer));
  if (missing.length === 0 || process.env['CI']) it(name, test);
  else {
    const packages = missing.map((peer) => PEERS[peer].from).join(', ');
    it(`${name} (not run: needs ${packages})`, (context) => context.skip());
  }
}

/** What a program prints on both its outputs, and its exit code. */
export function run(
  tool: string,
  args: readonly string[],
  input = '',
): { text: string; status: number | null } {
  const { stdout, stderr, status } = spawnSync(tool, args, { input, encoding: 'latin1', maxBuffer: 1 << 28 });
  return { text: `${stdout}${stderr}`, status };
}

/** What a program prints for each file of a folder, in order; one shell runs them all, since starting it is what costs. */
export function runEach(command: string, folder: string, names: readonly string[]): string[] {
  const script = `cd "$1"; shift; for name; do echo '=== next'; ${command} 2>&1; done`;
  const { text } = run('sh', ['-c', script, 'sh', folder, ...names]);
  return text.split('=== next\n').slice(1);
}

/** Runs `work` with a folder of its own, and the files named in it, and cleans up after it. */
export function inFolder<T>(files: Record<string, Uint8Array>, work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'dicom-copy-'));
  try {
    for (const [name, bytes] of Object.entries(files)) writeFileSync(join(folder, name), bytes);
    return work(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
