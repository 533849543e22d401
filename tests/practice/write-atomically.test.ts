import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { CONSTANT_TIME, writeAtomically } from '../../src/practice/index.js';
import { freshFolder, permits } from './scratch.js';

const OLD = Buffer.from('the old content');

/** Every file handle's methods, for putting faults into them. */
async function handlePrototype(): Promise<FileHandle> {
  const handle = await open('/dev/null', 'r');
  await handle.close();
  return Object.getPrototypeOf(handle) as FileHandle;
}

const fault = (code: string): Error => Object.assign(new Error('/secret/Jane/path refused'), { code });

describe('writeAtomically', () => {
  it('writes new bytes, replaces old ones, and leaves nothing else', async () => {
    const folder = freshFolder();
    const path = join(folder, 'a');
    expect(await writeAtomically(path, OLD)).toEqual({ kind: 'kept', value: null });
    expect(
      await writeAtomically(path, Buffer.from('new'), { mode: 0o600, constantTimes: true }),
    ).toMatchObject({ kind: 'kept' });
    expect(readFileSync(path, 'utf8')).toBe('new');
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(statSync(path).mtime).toEqual(CONSTANT_TIME);
    expect(statSync(path).atimeMs).toBeLessThanOrEqual(Date.now());
    expect(readdirSync(folder)).toEqual(['a']);
  });

  it('goes on after writes that take only a part', async () => {
    const folder = freshFolder();
    const prototype = await handlePrototype();
    const whole = prototype.write as (...args: unknown[]) => Promise<unknown>;
    const spy = vi.spyOn(prototype, 'write').mockImplementation(function (
      this: FileHandle,
      ...args: unknown[]
    ) {
      const [bytes, offset, length] = args as [Uint8Array, number, number];
      return whole.call(this, bytes, offset, Math.min(length, 7), null) as never;
    } as never);
    onTestFinished(() => spy.mockRestore());
    const bytes = Buffer.from(`${'x'.repeat(40)}end`);
    expect((await writeAtomically(join(folder, 'a'), bytes)).kind).toBe('kept');
    expect(readFileSync(join(folder, 'a'))).toEqual(bytes);
    expect(spy).toHaveBeenCalledTimes(7);
  });

  it.each(['write', 'sync', 'stat', 'utimes'] as const)(
    'keeps the old file and leaves no part when the disk fails at %s',
    async (step) => {
      const folder = freshFolder();
      const path = join(folder, 'a');
      writeFileSync(path, OLD);
      const prototype = await handlePrototype();
      const spy = vi.spyOn(prototype, step).mockRejectedValueOnce(fault('ENOSPC') as never);
      onTestFinished(() => spy.mockRestore());
      const outcome = await writeAtomically(path, Buffer.from('new'), { constantTimes: true });
      expect(outcome).toEqual({ kind: 'failed', reason: { code: 'disk', what: 'the disk is full, ENOSPC' } });
      expect(readFileSync(path)).toEqual(OLD);
      expect(readdirSync(folder)).toEqual(['a']);
    },
  );

  it('does not trust a write that claims success without taking anything', async () => {
    const folder = freshFolder();
    const prototype = await handlePrototype();
    const spy = vi.spyOn(prototype, 'write').mockResolvedValue({ bytesWritten: 0, buffer: OLD } as never);
    onTestFinished(() => spy.mockRestore());
    expect((await writeAtomically(join(folder, 'a'), OLD)).kind).toBe('failed');
    expect(readdirSync(folder)).toEqual([]);
  });

  it('keeps the old file on a disk of 4 MB that is really full', async (context) => {
    const folder = freshFolder();
    if (!permits('mount', '-t', 'tmpfs', '-o', 'size=4m', 'tmpfs', folder)) {
      return context.skip('mounting a small disk needs root');
    }
    onTestFinished(() => void execFileSync('umount', [folder]));
    const path = join(folder, 'a');
    writeFileSync(path, OLD);
    const outcome = await writeAtomically(path, Buffer.alloc(6 * 1024 * 1024, 1));
    expect(outcome).toMatchObject({
      kind: 'failed',
      reason: { code: 'disk', what: expect.stringContaining('full') },
    });
    expect(readFileSync(path)).toEqual(OLD);
    expect(readdirSync(folder)).toEqual(['a']);
    expect((await writeAtomically(path, Buffer.alloc(1024, 1))).kind).toBe('kept');
  });

  it('keeps the old file on a disk that is out of inodes', async (context) => {
    const folder = freshFolder();
    if (!permits('mount', '-t', 'tmpfs', '-o', 'nr_inodes=2', 'tmpfs', folder)) {
      return context.skip('mounting a small disk needs root');
    }
    onTestFinished(() => void execFileSync('umount', [folder]));
    writeFileSync(join(folder, 'a'), OLD);
    expect((await writeAtomically(join(folder, 'a'), Buffer.from('new'))).kind).toBe('failed');
    expect(readFileSync(join(folder, 'a'))).toEqual(OLD);
  });

  it('never lets a path or a name into the reason', async () => {
    const outcome = await writeAtomically(join(freshFolder(), 'Jane Doe', 'a'), OLD);
    expect(outcome).toEqual({ kind: 'failed', reason: { code: 'disk', what: 'it is not there, ENOENT' } });
  });

  it('writes any bytes back as they were', async () => {
    const path = join(freshFolder(), 'a');
    await fc.assert(
      fc.asyncProperty(fc.uint8Array({ maxLength: 5000 }), async (bytes) => {
        await writeAtomically(path, bytes);
        return Buffer.compare(readFileSync(path), bytes) === 0;
      }),
      { numRuns: 25 },
    );
  });
});
