import type { Dirent } from 'node:fs';
import { lstat, readdir, realpath, stat } from 'node:fs/promises';
import { basename, join, relative, sep } from 'node:path';
import type { Reason } from '../../core/reasons.js';
import { CONSTANT_TIME } from '../../practice/index.js';
import type { AuditHit, NameReader } from '../../stages/audit/index.js';
import type { UnreadFile } from './index.js';

/** A file to be read. */
export interface AuditedPath {
  path: string;
  /** As hits name it: the path as given, with names that identify withheld. */
  shown: string;
  bytes: number;
}

export interface Listing {
  files: AuditedPath[];
  /** What names and times of files and folders show by themselves. */
  hits: AuditHit[];
  unread: UnreadFile[];
}

/** Every plain file at or below the paths, in the order of their names. A named path may be a link; links below are unread. */
export async function listFiles(
  paths: readonly string[],
  names: NameReader,
  timeless: readonly string[],
): Promise<Listing> {
  const listing: Listing = { files: [], hits: [], unread: [] };
  const real = await Promise.all(timeless.map((folder) => realpath(folder).catch(() => folder)));
  const isTimeless = (one: string): boolean =>
    real.some((folder) => one !== folder && !relative(folder, one).startsWith('..'));
  const walk = new Walk(listing, names, isTimeless);
  for (const path of paths) {
    const target = await realpath(path).catch(() => path);
    await walk.visit(target, basename(target), shownPath(path, names));
  }
  return listing;
}

/** A path as a person typed it, each piece that identifies withheld. */
function shownPath(path: string, names: NameReader): string {
  const [, above = '', name = ''] = /^(.*[/\\])?([^/\\]*[/\\]*)$/s.exec(path) ?? [];
  const pieces = above.split(/([/\\]+)/).map((piece, at) => (at % 2 === 1 ? piece : names.shownAbove(piece)));
  return `${pieces.join('')}${names.shown(name, 1)}`;
}

class Walk {
  constructor(
    readonly listing: Listing,
    readonly names: NameReader,
    readonly isTimeless: (path: string) => boolean,
  ) {}

  async visit(path: string, name: string, shown: string): Promise<void> {
    try {
      const found = await lstat(path);
      const what = found.isDirectory() ? 'folder' : 'file';
      for (const kind of this.names.kindsIn(name))
        this.listing.hits.push({ file: shown, where: `${what} name`, kind });
      if (this.isTimeless(path) && found.mtimeMs !== CONSTANT_TIME.getTime())
        this.listing.hits.push({ file: shown, where: `${what} time`, kind: 'date' });
      if (found.isDirectory()) await this.#folder(path, shown);
      else if (found.isFile()) this.listing.files.push({ path, shown, bytes: found.size });
      else this.#unread(shown, { code: 'not-a-file', what: kindOf(found) });
    } catch (error) {
      this.#unread(shown, { code: 'unreadable', what: (error as NodeJS.ErrnoException).code ?? 'error' });
    }
  }

  async #folder(path: string, shown: string): Promise<void> {
    const entries = (await readdir(path, { withFileTypes: true })).toSorted(byName);
    for (const [at, { name }] of entries.entries()) {
      const below = `${shown.replace(/[/\\]$/, '')}${sep}${this.names.shown(name, at + 1)}`;
      await this.visit(join(path, name), name, below);
    }
  }

  #unread(file: string, reason: Reason): void {
    this.listing.unread.push({ file, reason });
  }
}

const byName = (a: Dirent, b: Dirent): number => (a.name < b.name ? -1 : 1);

type Found = Awaited<ReturnType<typeof lstat>>;

const kindOf = (found: Found): 'link' | 'pipe' | 'socket' | 'device' =>
  found.isSymbolicLink() ? 'link' : found.isFIFO() ? 'pipe' : found.isSocket() ? 'socket' : 'device';

/** Paths that are not there: wrong usage, told before anything is read. */
export async function absentPaths(paths: readonly string[]): Promise<string[]> {
  const absent = await Promise.all(
    paths.map((path) =>
      stat(path).then(
        () => false,
        () => true,
      ),
    ),
  );
  return paths.filter((_, at) => absent[at]);
}
