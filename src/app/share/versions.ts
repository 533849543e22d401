import type { SharedFile, ShareRecord } from '../../practice/index.js';

export interface Version {
  version: number;
  replaces: number | null;
}

type Sheet = Pick<ShareRecord, 'case' | 'template'>;

const ofSheet = (shared: readonly ShareRecord[], { case: code, template }: Sheet): ShareRecord[] =>
  shared.filter((one) => one.case === code && one.template === template);

/**
 * The version of a sheet about to be shared: the last one's while nothing has changed, else the next.
 * @param sha256s of the sheet first, then of its pictures
 */
export function versionOf(
  shared: readonly ShareRecord[],
  sheet: Sheet & { sha256: string },
  namesAt: (version: number) => readonly Pick<SharedFile, 'name' | 'sha256'>[],
): Version {
  const earlier = ofSheet(shared, sheet);
  const last = earlier.at(-1);
  if (!last) return { version: 1, replaces: null };
  const known = new Map(
    earlier
      .filter(({ version }) => version === last.version)
      .flatMap(({ files }) => files.map(({ name, sha256 }) => [name, sha256] as const)),
  );
  const isSame =
    last.sha256 === sheet.sha256 &&
    namesAt(last.version).every(({ name, sha256 }) => (known.get(name) ?? sha256) === sha256);
  if (isSame) return { version: last.version, replaces: last.replaces };
  return { version: last.version + 1, replaces: last.version };
}

/** Who got an earlier version and has not got this one: the last that each of them has. */
export function haveOlder(
  shared: readonly ShareRecord[],
  sheet: Sheet,
  { version, to }: { version: number; to: string },
): ShareRecord[] {
  const last = new Map<string, ShareRecord>();
  for (const one of ofSheet(shared, sheet)) last.set(foldName(one.to), one);
  last.delete(foldName(to));
  return [...last.values()].filter((one) => one.version < version);
}

const foldName = (name: string): string => name.normalize('NFKC').replace(/\s+/g, ' ').trim().toLowerCase();

/** The last version of each sheet, all its releases: what may lie in the outbox. */
export function currentShares(shared: readonly ShareRecord[]): ShareRecord[] {
  const last = new Map<string, number>();
  for (const { case: code, template, version } of shared) last.set(`${code} ${template}`, version);
  return shared.filter((one) => last.get(`${one.case} ${one.template}`) === one.version);
}
