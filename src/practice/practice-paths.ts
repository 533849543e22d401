import { join, resolve } from 'node:path';
import type { Settings } from '../core/settings.js';
import type { Protection } from './protection/protection.js';

/** Absolute paths of everything in a practice folder. */
export interface PracticePaths {
  settingsFile: string;
  inbox: string;
  private: string;
  originals: string;
  stripped: string;
  visits: string;
  held: string;
  drafts: string;
  /** Display pictures that serve the private record or named audiences only: they may show a face. */
  limited: string;
  records: string;
  cache: string;
  tmp: string;
  journal: string;
  register: string;
  reviews: string;
  patients: string;
  codes: string;
  secret: string;
  /** How the private records are encrypted; absent when they are not. */
  protection: string;
  /** The key under a passphrase; absent when it is a key file elsewhere. */
  key: string;
  /** Marks of the originals of erased patients. */
  erased: string;
  /** What an erasure that was begun removes; absent when none is under way. */
  erasing: string;
  lock: string;
  cases: string;
  outbox: string;
  templates: string;
}

/** An opened practice: where it is, what its practice.yaml says, and where everything lies. */
export interface Practice {
  root: string;
  settings: Settings;
  paths: PracticePaths;
  /** How its private records are encrypted, and the key once somebody gave it; null or absent: they are not. */
  protection?: Protection | null;
}

export const SETTINGS_FILE = 'practice.yaml';

/** Where everything lies. `privatePlace`, from the settings, may name another disk; relative to the practice. */
export function pathsOf(root: string, privatePlace: string | null): PracticePaths {
  const hidden = privatePlace === null ? join(root, 'private') : resolve(root, privatePlace);
  return {
    settingsFile: join(root, SETTINGS_FILE),
    inbox: join(root, 'inbox'),
    private: hidden,
    originals: join(hidden, 'originals'),
    stripped: join(hidden, 'stripped'),
    visits: join(hidden, 'visits'),
    held: join(hidden, 'held'),
    drafts: join(hidden, 'drafts'),
    limited: join(hidden, 'limited'),
    records: join(hidden, 'records'),
    cache: join(hidden, 'cache'),
    tmp: join(hidden, 'tmp'),
    journal: join(hidden, 'journal'),
    register: join(hidden, 'register.jsonl'),
    reviews: join(hidden, 'reviews.jsonl'),
    patients: join(hidden, 'patients'),
    codes: join(hidden, 'codes'),
    secret: join(hidden, 'secret'),
    protection: join(hidden, 'protection.json'),
    key: join(hidden, 'key.age'),
    erased: join(hidden, 'erased'),
    erasing: join(hidden, 'erasing'),
    lock: join(hidden, 'lock'),
    cases: join(root, 'cases'),
    outbox: join(root, 'outbox'),
    templates: join(root, 'templates'),
  };
}

/** Sub-folders of private/, made with mode 0700. */
export const privateFolders = (paths: PracticePaths): string[] => [
  paths.originals,
  paths.stripped,
  paths.visits,
  paths.held,
  paths.drafts,
  paths.limited,
  paths.records,
  paths.cache,
  paths.tmp,
];

/** Folders beside private/. The inbox may be a share or a link, so it is only made where nothing is. */
export const openFolders = (paths: PracticePaths): string[] => [paths.cases, paths.outbox, paths.templates];
