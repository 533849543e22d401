import type { BigIntStats } from 'node:fs';

/**
 * What tells one state of a file from another without reading it. Size and modified time are not enough: a copy
 * that keeps times can replace a file by one of the same size, and only the inode and the change time show it.
 */
export interface Print {
  size: number;
  mtimeNs: bigint;
  ctimeNs: bigint;
  ino: bigint;
  dev: bigint;
}

export const printOf = (stats: BigIntStats): Print => ({
  size: Number(stats.size),
  mtimeNs: stats.mtimeNs,
  ctimeNs: stats.ctimeNs,
  ino: stats.ino,
  dev: stats.dev,
});

export const samePrint = (a: Print, b: Print): boolean =>
  a.size === b.size &&
  a.mtimeNs === b.mtimeNs &&
  a.ctimeNs === b.ctimeNs &&
  a.ino === b.ino &&
  a.dev === b.dev;
